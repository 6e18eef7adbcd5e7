import { describe, expect, it } from 'vitest';
import { fromTexts, NO_AREA, toTexts } from './read-area.ts';

describe('a typed area', () => {
  it('is read with point or comma, sign and degree sign', () => {
    expect(fromTexts({ west: '-20,1', south: ' 45.9', east: '−19.9°', north: '46' })).toEqual([
      -20.1, 45.9, -19.9, 46,
    ]);
  });

  it.each(['', 'west', '1.2.3', '--1', '1e3'])('is not read from "%s"', (west) => {
    expect(fromTexts({ west, south: '1', east: '2', north: '3' })).toBeUndefined();
  });

  it('is written back to about a metre', () => {
    expect(toTexts([-20.020377394, 45.9, -19.9, 46])).toMatchObject({ west: '-20.02038', north: '46' });
    expect(toTexts(undefined)).toEqual(NO_AREA);
  });
});
