import { describe, expect, it } from 'vitest';
import us from '../../data/oracles/assurance.json';
import oracle from '../../data/oracles/drive.json';
import { drawNetwork } from '../assurance/network.fixture.ts';
import { buildDrive, findFailures } from './build-drive.ts';
import { CALM, design, drawFork } from './drive.fixture.ts';

function forkAt(maxspeed: string) {
  const nodes = { 1: [0, 0], 2: [1500, 0], 3: [2000, 0], 4: [1980, -140] } as const;
  return drawNetwork(
    nodes,
    [
      [1, 2, 3],
      [2, 4],
    ],
    { maxspeed },
  );
}

const METRIC = oracle.decisionSightMetricE.values.map(({ kmh, metres }) => [`${kmh}`, metres] as const);
const US = us.decisionSightE.values.map(({ mph, feet }) => [`${mph} mph`, feet * 0.3048] as const);

describe('a decision point on a route', () => {
  it.each([...METRIC, ...US])('at %s is seen from %d m by the tables', (maxspeed, tableM) => {
    const network = forkAt(maxspeed);
    const [decision] = findFailures(network, design(network, []), { drives: 1 });
    const sightM = decision?.sightM ?? Number.NaN;
    // The tables have 14.0 to 14.5 s and are rounded; the rule has 14.5 s.
    expect(tableM).toBeGreaterThan((sightM * 14) / 14.5 - 5);
    expect(tableM).toBeLessThan(sightM + 5);
    expect(decision?.announceM).toBeCloseTo((sightM * 20) / 14.5, 6);
    expect(decision?.lateLimitM).toBeCloseTo((sightM * 5.5) / 14.5 + 20, 6);
  });

  it('right at the mouth, with all its roads in the open air, is one of the drive', () => {
    const nodes = { 1: [0, 0], 2: [2000, 0], 3: [2400, 0], 4: [2380, -120] } as const;
    const open = { tunnel: 'no' };
    const network = drawNetwork(nodes, [
      [1, 2],
      { nodes: [2, 3], tags: open },
      { nodes: [2, 4], tags: open },
    ]);
    const found = findFailures(network, design(network, [], { speedMeanShare: 0.8 }), { drives: 10 });
    expect(found.map(({ osmNode, atM }) => [osmNode, Math.round(atM)])).toEqual([[2, 2000]]);
    // 500 m ahead at the mouth: everybody is told too early.
    expect(found[0]?.failures.without).toEqual({ late: 0, early: 1 });
  });

  it('is listed where it is met, for every link that leads to it', () => {
    const network = drawFork();
    const decisions = findFailures(network, design(network, []), { drives: 1 });
    expect(decisions).toMatchObject([{ osmNode: 2, where: 'underground', earlyLimitM: 30 }]);
    expect(decisions[0]?.atM).toBeCloseTo(1500, 3);
    // A merge before it: two ways to come to the fork.
    const nodes = {
      1: [0, 0],
      2: [1500, 0],
      3: [2000, 0],
      4: [1980, -140],
      5: [0, 90],
      6: [500, 0],
    } as const;
    const merged = drawNetwork(nodes, [
      [1, 6, 2, 3],
      [2, 4],
      [5, 6],
    ]);
    const found = findFailures(merged, design(merged, []), { drives: 1 });
    // From each entry by the same link: two ways of different length.
    expect(found.map(({ osmNode }) => osmNode)).toEqual([2, 2]);
    expect(found[0]?.atM).toBeCloseTo(1000 + Math.hypot(500, 90), 0);
    expect(found[1]?.atM).toBeCloseTo(1500, 0);
  });

  it('leaves no more room for a lead than the decision point before it is away', () => {
    const nodes = {
      1: [0, 0],
      2: [980, 0],
      3: [1000, 0],
      4: [2000, 0],
      5: [1500, -200],
      6: [1500, 200],
    } as const;
    const network = drawNetwork(nodes, [
      [1, 2, 3, 4],
      [2, 5],
      [3, 6],
    ]);
    const drive = buildDrive(network, design(network, []), { drives: 1 });
    const limits = new Map(drive.decisions.map(({ osmNode, earlyLimitM }) => [osmNode, earlyLimitM]));
    expect(limits.get(2)).toBe(30);
    expect(limits.get(3)).toBeCloseTo(20, 3);
  });

  it('is no decision for who comes by a way without a choice', () => {
    // Two-way: from 1 one may turn into the one-way ramp at 2, from 3 a sign forbids it... and so nothing is left to choose.
    const nodes = { 1: [0, 0], 2: [600, 0], 3: [1000, 0], 4: [900, -200] } as const;
    const twoWay = { nodes: [1, 2, 3], tags: { oneway: 'no' } };
    const network = drawNetwork(nodes, [twoWay, [4, 2]]);
    // The ramp joins here: who comes by it may turn both ways, who comes along the bore has one way to go.
    const drive = buildDrive(network, design(network, []), { drives: 1 });
    const rampId = network.links.find(({ fromNode }) => fromNode === 4)?.id;
    expect(new Set(drive.decisions.map(({ linkId }) => linkId))).toEqual(new Set([rampId]));
  });
});

describe('a decision point in the open air', () => {
  const open = (metres: number) => {
    const nodes = {
      0: [-200, 0],
      1: [0, 0],
      2: [1000, 0],
      3: [1000 + metres, 0],
      4: [1300 + metres, 40],
      5: [1300 + metres, -40],
    } as const;
    const air = { tunnel: 'no' };
    return drawNetwork(
      nodes,
      [
        { nodes: [0, 1], tags: air },
        [1, 2],
        { nodes: [2, 3], tags: air },
        { nodes: [3, 4], tags: air },
        { nodes: [3, 5], tags: air },
      ],
      { maxspeed: '72' },
    );
  };

  it('is met after the exit portal, from the last link', () => {
    const network = open(60);
    const [decision, ...others] = findFailures(network, design(network, []), { drives: 10 });
    expect(others).toEqual([]);
    expect(decision).toMatchObject({ osmNode: 3, where: 'after portal', linkId: network.links[0]?.id });
    expect(decision?.atM).toBeCloseTo(1060, 2);
    expect(decision?.failures.without).toEqual({ late: 0, early: 0 });
  });

  it('is guided by satellites from the recovery on: 100 m at 20 m/s', () => {
    // The lag is 1,000 · (1 − 1/1.1) ≈ 91 m at the portal. The instruction has to come at D − 290 + 20 m.
    const rules = { speedMeanShare: 1.1, announceTimeS: 14.5, lateToleranceM: 60 };
    const fail = (metres: number) => {
      const network = open(metres);
      return findFailures(network, design(network, [], rules), { drives: 10 })[0]?.failures.without;
    };
    // At D − 230 m: before the recovery the lag of 91 m and more is above the 60 m; after it there is none.
    expect(fail(300)).toEqual({ late: 1, early: 0 });
    expect(fail(340)).toEqual({ late: 0, early: 0 });
  });

  it('asks nothing of a complex without decision points', () => {
    const network = drawNetwork({ 1: [0, 0], 2: [1000, 0] }, [[1, 2]]);
    expect(findFailures(network, { rules: CALM, beacons: [], coverage: [] })).toEqual([]);
    expect(buildDrive(network, { rules: CALM, beacons: [], coverage: [] }, { drives: 3 })).toMatchObject({
      drives: 3,
      seed: 1,
      routesLeftOut: 0,
      decisions: [],
      branches: [],
    });
  });
});
