import { describe, expect, it } from 'vitest';
import { stand } from '../assurance/lay-plain.fixture.ts';
import { drawNetwork, hear } from '../assurance/network.fixture.ts';
import type { Rules } from '../placement/rules.ts';
import { buildDrive } from './build-drive.ts';
import { CALM, design, drawFork, linkFrom } from './drive.fixture.ts';

const network = drawFork();
type Places = Parameters<typeof design>[1];

/** Confusion on the main bore past the fork at 1,500 m; way 11 from node 2 is the main bore, way 12 the ramp. */
function confuse(places: Places, own: Partial<Rules> = {}, wayId = 11) {
  const { branches } = buildDrive(network, design(network, places, own), { drives: 400 });
  expect(branches).toHaveLength(2);
  const { id } = linkFrom(network, wayId, 2);
  const found = branches.find(({ linkId }) => linkId === id);
  if (found === undefined) throw new Error('no such branch');
  expect(found.osmNode).toBe(2);
  return found;
}

describe('past a fork underground', () => {
  it('a driver is shown on the sister until satellites recover, where no beacon stands', () => {
    // 500 m to the portal and 5 s at 20 m/s.
    const { confusedM, wrongShare } = confuse([]);
    expect(confusedM.without).toEqual({ p5: 600, p50: 600, p95: 600 });
    expect(confusedM.with).toEqual(confusedM.without);
    expect(wrongShare).toEqual({ without: 0, with: 0 });
  });

  it('until the first beacon that is not heard on the sister', () => {
    // 30 m past the fork with 40 m of radius: heard on the sister for 10 m, more than the 5 m of the rules.
    expect(confuse([[11, 2, 30, 70]]).confusedM.with).toEqual({ p5: 70, p50: 70, p95: 70 });
    expect(confuse([[11, 2, 36, 70]]).confusedM.with.p50).toBe(36);
    expect(confuse([[11, 2, 30, 70]], { forkOverlapM: 10 }).confusedM.with.p50).toBe(30);
    // Shown half a second later; the one before the fork and the one at it tell nothing.
    expect(
      confuse(
        [
          [11, 1, 1490, 1500],
          [11, 2, 70],
        ],
        { latencyS: 0.5 },
      ).confusedM.with.p50,
    ).toBe(80);
  });

  it('until the next one where the first has failed', () => {
    const { confusedM } = confuse([[11, 2, 50, 90]], { failureShare: 0.5 });
    expect(confusedM.with).toEqual({ p5: 50, p50: 50, p95: 600 });
  });

  it('a sister’s beacon puts the driver there, where it is heard and lost before the first own one', () => {
    // The ramp's beacon reaches 30 m into the main bore.
    expect(
      confuse([
        [12, 2, 10],
        [11, 2, 60],
      ]).wrongShare.with,
    ).toBe(1);
    expect(
      confuse([
        [12, 2, 10],
        [11, 2, 25],
      ]).wrongShare.with,
    ).toBe(0);
    expect(confuse([[12, 2, 10]]).wrongShare.with).toBe(1);
    // It reaches 4 m: one room. The one at the fork is nobody's.
    expect(
      confuse([
        [12, 2, 36],
        [11, 2, 60],
      ]).wrongShare.with,
    ).toBe(0);
    expect(
      confuse([
        [12, 2, 0],
        [11, 2, 60],
      ]).wrongShare.with,
    ).toBe(0);
    // Seen from the ramp it is the other way round.
    expect(
      confuse(
        [
          [11, 2, 10],
          [12, 2, 60],
        ],
        {},
        12,
      ).wrongShare.with,
    ).toBe(1);
    expect(
      confuse(
        [
          [11, 2, 10],
          [12, 2, 60],
        ],
        {},
        11,
      ).wrongShare.with,
    ).toBe(0);
  });

  it('a sister’s beacon that has failed or is missed does not', () => {
    const share = confuse([[12, 2, 10]], { failureShare: 0.4 }).wrongShare.with;
    expect(Math.abs(share - 0.6)).toBeLessThan(3 * Math.sqrt(0.24 / 400));
    // 30 m at 20 m/s are 1.5 s of a scan that listens half a second in five.
    const missed = confuse([[12, 2, 10]], { receiverProfile: 'sparse' }).wrongShare.with;
    expect(Math.abs(missed - 2 / 5.12)).toBeLessThan(0.1);
  });

  it('a fix that would be shown later than the satellites’ tells nothing', () => {
    expect(confuse([[11, 2, 480]], { latencyS: 10 }).confusedM.with.p50).toBe(600);
  });

  it('on branches that are drawn against the drive all is the same', () => {
    const nodes = { 1: [0, 0], 2: [1500, 0], 3: [2000, 0], 4: [1980, -140] } as const;
    const twoWay = drawNetwork(
      nodes,
      [
        [1, 2],
        [3, 2],
        [4, 2],
      ],
      { oneway: 'no', maxspeed: '72' },
    );
    const places = twoWay.links.flatMap(({ id, lengthM, fromNode, toNode }) => {
      if (fromNode !== 3 && toNode !== 3) return [];
      return [30, 70].map((pastM) => stand(`p${pastM}`, id, fromNode === 2 ? pastM : lengthM - pastM));
    });
    expect(places).toHaveLength(2);
    const made = { rules: CALM, beacons: places, coverage: hear(twoWay, places, CALM.coverageRadiusM) };
    const { branches } = buildDrive(twoWay, made, { drives: 10 });
    const found = branches.find(({ linkId }) => linkId === places[0]?.at.linkId);
    expect(found?.confusedM.with.p50).toBe(70);
  });
});
