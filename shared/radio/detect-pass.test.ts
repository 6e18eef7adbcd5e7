import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/radio.json';
import { detectPass, type PassInput, type Row } from './detect-pass.ts';

const pass = (
  durationMs: number,
  intervalMs: number,
  scan: { windowMs: number; intervalMs: number },
): PassInput => ({
  beacon: { intervalMs, payloadBytes: 31 },
  receiver: { scanWindowMs: scan.windowMs, scanIntervalMs: scan.intervalMs },
  timeInRangeS: durationMs / 1000,
  otherBeacons: 0,
});

function chance(input: PassInput & Row): number {
  const result = detectPass(input);
  if (!result.ok) throw new Error(JSON.stringify(result.refusal));
  return result.value;
}

describe('detection against the published simulation (source in data/oracles/radio.json)', () => {
  const { at1800Ms, at2880Ms200, advertisingMs, tolerance } = oracle.detection;
  const cells = [
    ...at1800Ms.flatMap(({ found, ...scan }) =>
      found.map((p, i) => ({ scan, p, ms: 1800, adv: advertisingMs[i] ?? 0 })),
    ),
    ...at2880Ms200.map(({ found, ...scan }) => ({ scan, p: found, ms: 2880, adv: 200 })),
  ];
  it.each(cells)(
    '$scan.windowMs/$scan.intervalMs ms, advertising $adv ms, $ms ms: $p',
    ({ scan, p, ms, adv }) => {
      expect(Math.abs(chance(pass(ms, adv, scan)) - p)).toBeLessThanOrEqual(tolerance);
    },
  );
});

/** A seeded generator, 0 to 1 (mulberry32). */
function makeRandom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Plays single events: nothing of the method under test but the radio's habits. */
function simulate(input: PassInput & Row, passes: number, random: () => number): number {
  const { beacon, receiver, otherBeacons, beacons = 1, apartS = 0, failureShare = 0 } = input;
  const [windowMs, scanMs] = [receiver.scanWindowMs, receiver.scanIntervalMs];
  const airMs = (128 + 8 * beacon.payloadBytes) / 1000;
  const reception = Math.exp((-2 * otherBeacons * airMs) / beacon.intervalMs);
  const delayed = () => beacon.intervalMs + random() * 10;
  const isReceived = (eventMs: number) =>
    [0, 1, 2].some((channel) => {
      const atMs = eventMs + channel * (airMs + 0.15);
      const scan = Math.floor(atMs / scanMs);
      const isWhole = atMs + airMs <= scan * scanMs + windowMs;
      return scan % 3 === channel && isWhole && random() < reception;
    });
  const isHeard = (fromMs: number) => {
    // Started long before, so that the first event in range falls anywhere in its interval.
    let eventMs = fromMs - 40 * beacon.intervalMs * (1 + random());
    while (eventMs < fromMs) eventMs += delayed();
    for (; eventMs <= fromMs + input.timeInRangeS * 1000; eventMs += delayed()) {
      if (isReceived(eventMs)) return true;
    }
    return false;
  };
  let heard = 0;
  for (let count = 0; count < passes; count++) {
    const startMs = 300 * scanMs * 3 + random() * 3 * scanMs + 100 * beacon.intervalMs;
    const row = Array.from({ length: beacons }, (_, index) => startMs + index * apartS * 1000);
    if (row.some((fromMs) => random() >= failureShare && isHeard(fromMs))) heard++;
  }
  return heard / passes;
}

describe('detection against events played one by one', () => {
  const scans = {
    continuous: { windowMs: 100, intervalMs: 100 },
    balanced: { windowMs: 183, intervalMs: 730 },
    lowPower: { windowMs: 140, intervalMs: 1400 },
    sparse: { windowMs: 512, intervalMs: 5120 },
  };
  const cases: readonly (readonly [string, PassInput & Row])[] = [
    ['shorter than the advertising interval', pass(300, 1000, scans.balanced)],
    ['short, continuous', pass(50, 100, scans.continuous)],
    ['long, sparse', pass(14_000, 1000, scans.sparse)],
    ['with collisions', { ...pass(1800, 100, scans.lowPower), otherBeacons: 60 }],
    ['narrow windows', pass(1800, 1000, { windowMs: 10, intervalMs: 1000 })],
    ['windows of 2.5 ms in a long pass', pass(60_000, 200, { windowMs: 2.5, intervalMs: 5000 })],
    ['channels that change within an event', pass(1000, 1000, { windowMs: 5, intervalMs: 5 })],
    ['short advertising and scan', pass(60, 20, { windowMs: 30, intervalMs: 70 })],
    ['a row of two', { ...pass(2000, 500, scans.balanced), beacons: 2, apartS: 1.2 }],
    ['a row of two, sparse', { ...pass(3600, 200, scans.sparse), beacons: 2, apartS: 1.8 }],
    ['one that may have failed', { ...pass(1800, 500, scans.balanced), failureShare: 0.2 }],
    [
      'a row of three that may have failed',
      { ...pass(1800, 200, scans.sparse), beacons: 3, apartS: 1.3, failureShare: 0.3 },
    ],
    ['a row of three, low power', { ...pass(1800, 1000, scans.lowPower), beacons: 3, apartS: 1.8 }],
  ];
  it.each(cases)('%s', (_, input) => {
    const passes = 40_000;
    const expected = simulate(input, passes, makeRandom(11));
    const noise = 4 * Math.sqrt((expected * (1 - expected)) / passes) + 0.002;
    expect(Math.abs(chance(input) - expected)).toBeLessThanOrEqual(noise);
  });

  it('is far from 1 − (1 − p)^n where the receiver scans in windows', () => {
    const found = chance(pass(1800, 100, scans.sparse));
    const independent = 1 - (1 - 512 / 5120) ** (1800 / 105);
    expect(independent - found).toBeGreaterThan(0.35);
  });
});

describe('chance to detect', () => {
  const anyPass = fc.record({
    durationMs: fc.integer({ min: 1, max: 6000 }),
    advertisingMs: fc.integer({ min: 20, max: 2000 }),
    windowMs: fc.integer({ min: 20, max: 600 }),
    pauseMs: fc.integer({ min: 0, max: 4000 }),
  });

  it('is a chance, and not smaller with more time, more beacons or fewer others', () => {
    fc.assert(
      fc.property(anyPass, ({ durationMs, advertisingMs, windowMs, pauseMs }) => {
        const input = pass(durationMs, advertisingMs, { windowMs, intervalMs: windowMs + pauseMs });
        const found = chance(input);
        expect(found).toBeGreaterThanOrEqual(0);
        expect(found).toBeLessThanOrEqual(1);
        const slack = 0.003;
        expect(chance({ ...input, timeInRangeS: input.timeInRangeS * 1.5 })).toBeGreaterThan(found - slack);
        expect(chance({ ...input, beacons: 2, apartS: 1 })).toBeGreaterThan(found - slack);
        expect(chance({ ...input, otherBeacons: 50 })).toBeLessThan(found + slack);
      }),
      { seed: 4, numRuns: 40 },
    );
  });

  it('is the sum over what has failed', () => {
    const input = pass(1800, 200, { windowMs: 512, intervalMs: 5120 });
    const at = (beacons: number, apartS: number) => chance({ ...input, beacons, apartS });
    const failureShare = 0.3;
    const works = 1 - failureShare;
    const both = works ** 2 * at(2, 1.1);
    const oneOnly = 2 * works * failureShare * at(1, 0);
    expect(chance({ ...input, beacons: 2, apartS: 1.1, failureShare })).toBeCloseTo(both + oneOnly, 3);
    expect(chance({ ...input, failureShare: 1 })).toBe(0);
  });

  it('is 0 where there is no time, and the same on every call', () => {
    const input = pass(1800, 200, { windowMs: 512, intervalMs: 5120 });
    expect(chance({ ...input, timeInRangeS: 0 })).toBe(0);
    expect(chance(input)).toBe(chance(input));
  });

  it.each([
    ['scanWindowMs', { receiver: { scanWindowMs: 200, scanIntervalMs: 100 } }],
    ['intervalMs', { beacon: { intervalMs: 5, payloadBytes: 31 } }],
    ['payloadBytes', { beacon: { intervalMs: 100, payloadBytes: 40 } }],
    ['timeInRangeS', { timeInRangeS: Number.NaN }],
    ['otherBeacons', { otherBeacons: -1 }],
    ['failureShare', { failureShare: 1.1 }],
    ['beacons', { beacons: 0 }],
  ])('refuses %s out of range', (rule, changed) => {
    const result = detectPass({ ...pass(1800, 200, { windowMs: 100, intervalMs: 100 }), ...changed });
    expect(result.ok || result.refusal).toMatchObject({ code: 'rule-invalid', context: { rule } });
  });
});
