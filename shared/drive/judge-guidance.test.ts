import { describe, expect, it } from 'vitest';
import type { Fixes } from './draw-fixes.ts';
import type { Motion } from './draw-motion.ts';
import { errorAtM, type Judged, judgeGuidance } from './judge-guidance.ts';

/** A drive by its parts `[fromM, slope]` and its fixes `[shownM, errorM]`. */
function drawDrive(
  parts: readonly (readonly [number, number])[],
  fixes: readonly (readonly [number, number])[],
) {
  const driftAt = (placeM: number) =>
    parts.reduce((sum, [fromM, slope], i) => {
      const toM = Math.min(placeM, parts[i + 1]?.[0] ?? Number.POSITIVE_INFINITY);
      return sum + Math.max(0, toM - fromM) * slope;
    }, 0);
  const list = (values: readonly number[]) => Float64Array.from(values);
  const starts = parts.map(([fromM]) => fromM);
  const motion: Motion = {
    count: parts.length,
    fromM: list(starts),
    slope: list(parts.map(([, slope]) => slope)),
    driftM: list(starts.map(driftAt)),
    speedMps: list(starts),
    atS: list(starts),
  };
  const made: Fixes = {
    count: fixes.length,
    shownM: list(fixes.map(([shownM]) => shownM)),
    offsetM: list(fixes.map(([shownM, errorM]) => errorM - driftAt(shownM))),
    pathM: list(fixes.map(([shownM]) => shownM + driftAt(shownM))),
  };
  return { motion, fixes: made };
}

const AT: Judged = { atM: 1000, announceM: 400, lateLimitM: 50, earlyLimitM: 30 };

function judge(
  parts: readonly (readonly [number, number])[],
  fixes: readonly (readonly [number, number])[],
  own: Partial<Judged> = {},
) {
  const made = drawDrive(parts, fixes);
  return judgeGuidance(made.motion, made.fixes, { ...AT, ...own });
}

describe('guidance at a decision point', () => {
  it('is in time where the position is right, whatever the tolerances', () => {
    const none = { lateLimitM: 0, earlyLimitM: 0 };
    expect(judge([[0, 0]], [[0, 0]])).toBeUndefined();
    expect(judge([[0, 0]], [[0, 0]], none)).toBeUndefined();
  });

  it('is late where the lag is above the limit at the last place', () => {
    // Due at 600 m; at 650 m the car is to be shown there at last.
    expect(judge([[0, 0]], [[0, -49.9]])).toBeUndefined();
    expect(judge([[0, 0]], [[0, -50.1]])).toBe('late');
    expect(judge([[0, -49.9 / 650]], [[0, 0]])).toBeUndefined();
    expect(judge([[0, -50.1 / 650]], [[0, 0]])).toBe('late');
  });

  it('is early where the lead is above the limit before the point', () => {
    expect(judge([[0, 0]], [[0, 29.9]])).toBeUndefined();
    expect(judge([[0, 0]], [[0, 30.1]])).toBe('early');
    expect(judge([[0, 29.9 / 970]], [[0, 0]])).toBeUndefined();
    expect(judge([[0, 30.1 / 970]], [[0, 0]])).toBe('early');
  });

  it('is in time by a fix that comes soon enough, and not by one that comes too late', () => {
    const lag = [[0, -0.2]] as const;
    expect(
      judge(lag, [
        [0, 0],
        [649, 0],
      ]),
    ).toBeUndefined();
    expect(
      judge(lag, [
        [0, 0],
        [651, 0],
      ]),
    ).toBe('late');
    // Shown at the place, then back behind it: the instruction was given.
    expect(
      judge(
        [[0, 0]],
        [
          [0, 0],
          [601, -200],
          [900, 0],
        ],
      ),
    ).toBeUndefined();
  });

  it('is early by a lead that one fix ends, if the position was past the point before it', () => {
    // At 899 m just before the fix the car is shown 899 · 0.12 = 108 m ahead: past 1,000 m.
    expect(
      judge(
        [[0, 0.12]],
        [
          [0, 0],
          [899, 0],
        ],
      ),
    ).toBe('early');
    expect(
      judge(
        [[0, 0.12]],
        [
          [0, 0],
          [890, 0],
        ],
      ),
    ).toBeUndefined();
    // A wrong fix puts it there at once.
    expect(
      judge(
        [[0, 0]],
        [
          [0, 0],
          [700, 310],
          [710, 0],
        ],
      ),
    ).toBe('early');
  });

  it('counts a drive once: late comes first', () => {
    expect(
      judge(
        [[0, 0]],
        [
          [0, -60],
          [700, 310],
        ],
      ),
    ).toBe('late');
  });

  it('is never late where the instruction was due before the portal', () => {
    expect(judge([[0, -0.5]], [[0, 0]], { atM: 390 })).toBeUndefined();
    expect(judge([[0, -0.5]], [[0, 0]], { atM: 410, lateLimitM: 9 })).toBe('late');
    expect(judge([[0, 0.5]], [[0, 0]], { atM: 390 })).toBe('early');
  });

  it('is judged by an error that changes in the middle of a stretch', () => {
    const { motion, fixes } = drawDrive(
      [
        [0, 0.1],
        [300, -0.1],
        [500, 0.4],
      ],
      [
        [0, 3],
        [400, -2],
      ],
    );
    expect(errorAtM(motion, fixes, 300)).toBeCloseTo(33, 9);
    expect(errorAtM(motion, fixes, 399)).toBeCloseTo(23.1, 9);
    expect(errorAtM(motion, fixes, 400)).toBeCloseTo(-2, 9);
    expect(errorAtM(motion, fixes, 600)).toBeCloseTo(-12 + 40, 9);
  });
});
