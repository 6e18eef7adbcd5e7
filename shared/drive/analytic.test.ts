import { describe, expect, it } from 'vitest';
import { detectPass } from '../radio/detect-pass.ts';
import { BEACON_PROFILES, RECEIVER_PROFILES } from '../radio/profiles.ts';
import { buildCourse } from './build-course.ts';
import { buildDrive, findFailures } from './build-drive.ts';
import { steadyErrorM } from './closed-form.ts';
import { prepareListening } from './draw-fixes.ts';
import { design, drawFork, LIMIT_KMH } from './drive.fixture.ts';
import { driveRoute } from './drive-route.ts';
import { listSenders } from './list-senders.ts';
import { makeMisses } from './make-misses.ts';

const network = drawFork();
const SPREAD = { speedMeanShare: 0.95, speedSpreadShare: 0.12 };
const DRIVES = 4_000;

/** Share of the speeds below one, as a share of the limit: the density of the cut normal, added up by Simpson's rule. */
function shareBelow(speedShare: number): number {
  const upTo = (end: number) => {
    const steps = 2_000;
    const width = (end + 3) / steps;
    let sum = 0;
    for (let i = 0; i <= steps; i += 1) {
      const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
      sum += weight * Math.exp(-((-3 + i * width) ** 2) / 2);
    }
    return (sum * width) / 3;
  };
  const deviate = (speedShare - SPREAD.speedMeanShare) / SPREAD.speedSpreadShare;
  return upTo(Math.min(3, Math.max(-3, deviate))) / upTo(3);
}

/** Three standard errors of a share of so many drives. */
const wide = (share: number, drives = DRIVES) => 3 * Math.sqrt((share * (1 - share)) / drives) + 1e-9;

describe('many drives against the closed form', () => {
  const drive = buildDrive(network, design(network, [], SPREAD), { drives: DRIVES });

  it('have its percentiles at every place of a route', () => {
    const [route] = drive.routes;
    expect(route?.atM).toHaveLength(160);
    route?.atM.forEach((atM, i) => {
      if (atM < 100) return;
      for (const [name, share] of [['p5', 0.05] as const, ['p50', 0.5] as const, ['p95', 0.95] as const]) {
        const errorM = route.errorM.without[name][i] ?? Number.NaN;
        // error = x · (1 / f − 1), falling with f: what is at or below it has a greater f.
        const found = 1 - shareBelow(atM / (atM + errorM));
        expect(Math.abs(found - share)).toBeLessThan(wide(share) + 0.002);
      }
    });
  });

  it.each([
    { announceTimeS: 20, lateToleranceM: 0, earlyToleranceM: 30 },
    { announceTimeS: 15, lateToleranceM: 20, earlyToleranceM: 80 },
    { announceTimeS: 22, lateToleranceM: 10, earlyToleranceM: 0 },
  ])('fail late and early as often: $announceTimeS s, $lateToleranceM m, $earlyToleranceM m', (own) => {
    const decisions = findFailures(network, design(network, [], { ...SPREAD, ...own }), { drives: DRIVES });
    const [decision] = decisions.filter(({ where }) => where === 'underground');
    const announceM = 0.278 * LIMIT_KMH * own.announceTimeS;
    const lateLimitM = announceM - 0.278 * LIMIT_KMH * 14.5 + own.lateToleranceM;
    // The estimate at x is x / f.
    const dueM = 1500 - announceM;
    const late = 1 - shareBelow((dueM + lateLimitM) / dueM);
    const early = shareBelow((1500 - own.earlyToleranceM) / 1500);
    const found = decision?.failures.without ?? { late: -1, early: -1 };
    expect(decision?.lateLimitM).toBeCloseTo(lateLimitM, 6);
    expect(late).toBeGreaterThan(0.001);
    expect(Math.abs(found.late - late)).toBeLessThan(wide(late));
    expect(Math.abs(found.early - early)).toBeLessThan(wide(early));
    expect(decision?.failures.with).toEqual(found);
  });

  it('have the latency and the error of a beacon fix', () => {
    const own = { speedMeanShare: 0.8, latencyS: 1.5 };
    const { routes } = buildDrive(network, design(network, [[11, 1, 400]], own), { drives: 5 });
    const [route] = routes;
    const trueMps = (0.8 * LIMIT_KMH) / 3.6;
    route?.atM.forEach((atM, i) => {
      const speeds = { assumedMps: LIMIT_KMH / 3.6, trueMps };
      const isShown = atM >= 400 + trueMps * own.latencyS;
      const fix = isShown ? { drivenM: atM - 400, latencyS: own.latencyS } : { drivenM: atM };
      expect(route.errorM.with.p50[i]).toBeCloseTo(steadyErrorM({ ...fix, ...speeds }), 1);
      expect(route.errorM.without.p50[i]).toBeCloseTo(steadyErrorM({ drivenM: atM, ...speeds }), 1);
    });
    const noisy = design(network, [[11, 1, 1990]], { beaconFixErrorM: 8, portalFixErrorM: 3 });
    const far = buildDrive(network, design(network, [[11, 1, 1400]], noisy.rules), { drives: DRIVES })
      .routes[0];
    // 1.6449 standard deviations; a sample's 95 % lies within 3 · 0.033 of them.
    expect(Math.abs((far?.errorM.with.p95.at(-1) ?? 0) / 8 - 1.6449)).toBeLessThan(0.11);
    expect(Math.abs((far?.errorM.with.p5.at(-1) ?? 0) / 8 + 1.6449)).toBeLessThan(0.11);
    expect(Math.abs((far?.errorM.without.p95.at(-1) ?? 0) / 3 - 1.6449)).toBeLessThan(0.11);
  });

  it('meet a slow stretch as often and as long as the rules say', () => {
    const own = { congestionShare: 0.3, congestionSpeedShare: 0.5, congestionLengthM: 300 };
    const { routes } = buildDrive(network, design(network, [], own), { drives: DRIVES });
    const atExit = routes[0]?.errorM.without;
    // Seven of ten drives have no error; the worst lose one metre for each of the whole stretch.
    expect(atExit?.p50.at(-1)).toBe(0);
    expect(atExit?.p95.at(-1)).toBeCloseTo(300, 1);
  });
});

describe('beacons are heard', () => {
  const PASSES = 20_000;
  const listen = (
    receiverProfile: keyof typeof RECEIVER_PROFILES,
    speedMeanShare: number,
    failureShare: number,
    coverageRadiusM: number,
  ) => {
    const own = {
      receiverProfile,
      beaconProfile: 'standard',
      speedMeanShare,
      failureShare,
      coverageRadiusM,
    } as const;
    const made = design(network, [[11, 1, 600, 640]], own);
    const links = new Map(network.links.map((link) => [link.id, link]));
    const [route] = network.complex.routes;
    if (route === undefined) throw new Error('no route');
    const course = buildCourse(route, links, listSenders(network, made));
    const listening = prepareListening(course, made.rules, makeMisses(made.rules));
    const heard = { first: 0, any: 0 };
    driveRoute(course, made.rules, listening, { drives: PASSES, seed: 3 }, () => {
      const [one, other] = [...listening.shownM].map(Number.isFinite);
      if (one) heard.first += 1;
      if (one || other) heard.any += 1;
    });
    const speedMps = (speedMeanShare * LIMIT_KMH) / 3.6;
    const { intervalMs, payloadBytes } = BEACON_PROFILES.standard;
    const { scanWindowMs, scanIntervalMs } = RECEIVER_PROFILES[receiverProfile];
    const pass = {
      beacon: { intervalMs, payloadBytes },
      receiver: { scanWindowMs, scanIntervalMs },
      timeInRangeS: (2 * coverageRadiusM) / speedMps,
      // 40 m apart.
      otherBeacons: coverageRadiusM < 40 ? 0 : 1,
    };
    const chance = (beacons: number) => {
      const found = detectPass({ ...pass, beacons, apartS: 40 / speedMps, failureShare });
      return found.ok ? found.value : Number.NaN;
    };
    return { first: heard.first / PASSES, any: heard.any / PASSES, one: chance(1), row: chance(2) };
  };

  it.each([
    ['sparse', 1, 0, 40],
    ['sparse', 1, 0, 20],
    ['sparse', 0.77, 0.1, 40],
    ['low-power', 1, 0.05, 40],
    ['low-power', 1.3, 0, 40],
    ['balanced', 1.1, 0.2, 40],
    ['continuous', 1, 0.3, 40],
  ] as const)(
    'as often as the radio model says: %s at %d of the limit, %d failed, %d m',
    (receiver, speed, failed, radiusM) => {
      const { first, any, one, row } = listen(receiver, speed, failed, radiusM);
      // What is interpolated between times in range is given 0.004 more.
      expect(Math.abs(first - one)).toBeLessThan(wide(one, PASSES) + 0.004);
      expect(Math.abs(any - row)).toBeLessThan(wide(row, PASSES) + 0.004);
    },
  );
});
