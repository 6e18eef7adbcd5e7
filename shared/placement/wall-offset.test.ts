import { describe, expect, it } from 'vitest';
import type { Link } from '../network/network.ts';
import { DEFAULT_RULES } from './rules.ts';
import { centreOffsetM, halfWidthM, wallOffsetM } from './wall-offset.ts';

/** Two lanes to 100 m, then 9 m of carriageway to 200 m. */
const link = {
  lanes: 2,
  stretches: [
    { fromM: 0, toM: 100, lanes: 2 },
    { fromM: 100, toM: 200, lanes: 3, widthM: 9 },
  ],
} as unknown as Link;

describe('the wall', () => {
  it.each([
    [0, 3.5],
    [99, 3.5],
    [100, 3.5],
    [101, 4.5],
    [200, 4.5],
  ])('at %s m is beyond half the carriageway of that stretch: %s m', (chainageM, halfM) => {
    expect(halfWidthM(link, chainageM, DEFAULT_RULES)).toBe(halfM);
    expect(wallOffsetM(link, chainageM, DEFAULT_RULES, 'right')).toBe(halfM + 1);
    expect(wallOffsetM(link, chainageM, DEFAULT_RULES, 'left')).toBe(-halfM - 1);
  });

  it('follows lane width and shoulder, but a width in the data before lanes', () => {
    const rules = { ...DEFAULT_RULES, laneWidthM: 3, shoulderM: 0.5 };
    expect(wallOffsetM(link, 50, rules, 'right')).toBe(3.5);
    expect(wallOffsetM(link, 150, rules, 'right')).toBe(5);
  });

  it('starts at the middle of the carriageway where the drawn line is not it', () => {
    const off = {
      lanes: 3,
      stretches: [
        { fromM: 0, toM: 100, lanes: 3, centreLanes: 0.5 },
        { fromM: 100, toM: 200, lanes: 3, centreLanes: -1.5, widthM: 9 },
      ],
    } as unknown as Link;
    // Middle 0.5 × 3.5 m to the right; walls 3 × 3.5 / 2 + 1 m from it.
    expect(wallOffsetM(off, 50, DEFAULT_RULES, 'right')).toBe(1.75 + 6.25);
    expect(wallOffsetM(off, 50, DEFAULT_RULES, 'left')).toBe(1.75 - 6.25);
    // The drawn line is the right edge: a lane is 9 / 3 m wide.
    expect(centreOffsetM(off, 150, DEFAULT_RULES)).toBe(-4.5);
    expect(wallOffsetM(off, 150, DEFAULT_RULES, 'right')).toBe(1);
  });
});
