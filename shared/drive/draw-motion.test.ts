import { describe, expect, it } from 'vitest';
import { drawNetwork } from '../assurance/network.fixture.ts';
import type { Rules } from '../placement/rules.ts';
import { buildDrive, findFailures } from './build-drive.ts';
import { design, drawFork } from './drive.fixture.ts';

const network = drawFork();
const LENGTH_M = 2_000;

/** The error without beacons along the main bore of 2,000 m, and a place of it by metres. */
function drive(own: Partial<Rules>) {
  const { routes } = buildDrive(network, design(network, [], own), { drives: 4_000 });
  const route = routes.find(({ lengthM }) => Math.abs(lengthM - LENGTH_M) < 1);
  if (route === undefined) throw new Error('no such route');
  const { without } = route.errorM;
  const at = (placeM: number) => {
    const i = route.atM.findIndex((atM) => atM >= placeM);
    const [p5 = Number.NaN, p50 = Number.NaN, p95 = Number.NaN] = [
      without.p5[i],
      without.p50[i],
      without.p95[i],
    ];
    return { atM: route.atM[i] ?? Number.NaN, p5, p50, p95 };
  };
  return { at, atExit: at(LENGTH_M - 0.01) };
}

describe('the speed of a drive', () => {
  it('is even within the same standard deviation where the rules say so', () => {
    const { atExit } = drive({ speedShape: 'uniform', speedSpreadShare: 0.1 });
    // From 1 − 0.1 · √3 to 1 + 0.1 · √3: 5 and 95 % lie at 0.9 of that.
    const edge = 0.09 * Math.sqrt(3);
    expect(Math.abs(atExit.p95 / (LENGTH_M * (1 / (1 - edge) - 1)) - 1)).toBeLessThan(0.04);
    expect(Math.abs(atExit.p5 / (LENGTH_M * (1 / (1 + edge) - 1)) - 1)).toBeLessThan(0.04);
  });

  it('is never below a tenth of the limit', () => {
    const { atExit } = drive({ speedMeanShare: 0.3, speedSpreadShare: 0.5 });
    expect(atExit.p95).toBeCloseTo(9 * LENGTH_M, 0);
  });
});

describe('a slow stretch', () => {
  const slow = { congestionShare: 1, congestionSpeedShare: 0.5, congestionLengthM: 300 };

  it('lies anywhere over the route, over its ends too', () => {
    // It began 240 m or more before the portal and still lasts for 60 m in one of ten drives.
    const { atM, p50, p95 } = drive(slow).at(60);
    expect(p50).toBe(0);
    expect(p95).toBeCloseTo(atM, 1);
  });

  it('makes nobody faster', () => {
    const { atExit } = drive({ ...slow, speedMeanShare: 0.4, congestionSpeedShare: 0.8 });
    expect(atExit.p5).toBeCloseTo(LENGTH_M * 1.5, 0);
    expect(atExit.p95).toBeCloseTo(LENGTH_M * 1.5, 0);
  });

  it('is what a receiver that keeps the speed at entry takes for the whole', () => {
    // Who comes out of it is twice as fast as assumed: of 7,000 m of places for its start, 2,000 m end it on the route,
    // and 5 % of all drives have 1,650 m or more left.
    const { atExit } = drive({ ...slow, congestionLengthM: 5_000, assumedSpeed: 'entry' });
    expect(Math.abs(atExit.p5 + 825)).toBeLessThan(50);
  });
});

describe('beacons before a decision point', () => {
  const early = (metres: number[]) =>
    findFailures(network, design(network, [[11, 1, ...metres]], { speedMeanShare: 0.8 }), { drives: 10 })[0]
      ?.failures;

  it('take away a lead, which leaves it as it was without them', () => {
    // The lead of 25 % is 367 m at 1,470 m; 200 m after a beacon it is 50 m.
    expect(early([200, 400, 600, 800, 1000, 1200, 1400])).toEqual({
      without: { late: 0, early: 1 },
      with: { late: 0, early: 0 },
    });
  });

  it('do not mend what was shown before them', () => {
    expect(early([1400])?.with).toEqual({ late: 0, early: 1 });
  });
});

describe('an opening between two bores', () => {
  it('is driven at its own limit and gives no fix', () => {
    const nodes = { 1: [0, 0], 2: [1000, 0], 3: [1040, 0], 4: [2040, 0] } as const;
    const ways = [[1, 2], { nodes: [2, 3], tags: { tunnel: 'no', maxspeed: '36' } }, [3, 4]];
    const joined = drawNetwork(nodes, ways, { maxspeed: '72' });
    const made = design(joined, [[13, 3, 500]], { assumedSpeed: 'entry' });
    const { routes } = buildDrive(joined, made, { drives: 3 });
    const route = routes.find(({ lengthM }) => Math.abs(lengthM - 2040) < 0.1);
    const errorAt = (placeM: number, which: 'without' | 'with') =>
      route?.errorM[which].p50[route.atM.findIndex((atM) => atM >= placeM)];
    // 40 m at half the speed at entry: the estimate is 40 m ahead.
    expect(errorAt(980, 'without')).toBe(0);
    expect(errorAt(1045, 'without')).toBeCloseTo(40, 1);
    expect(errorAt(2039.9, 'without')).toBeCloseTo(40, 1);
    // The beacon stands 1,540 m from the first portal; places are 12.8 m apart.
    expect(errorAt(1525, 'with')).toBeCloseTo(40, 1);
    expect(errorAt(1540.1, 'with')).toBe(0);
  });
});
