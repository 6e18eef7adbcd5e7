import { describe, expect, it } from 'vitest';
import { fromLines, fromTexts, NO_AREA, toLines, toTexts } from './read-area.ts';

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

describe('a typed outline', () => {
  const TRIANGLE = [
    [-20, 46],
    [-19.9, 46],
    [-19.9, 46.1],
    [-20, 46],
  ];

  it('is read line by line and closed', () => {
    expect(fromLines('-20, 46\n\n −19.9;46\n-19.9 46.1\n')).toEqual(TRIANGLE);
    expect(fromLines('-20,46\n-19.9,46\n-19.9,46.1\n-20,46')).toEqual(TRIANGLE);
  });

  it.each(['', '1,2\n3,4', '1,2\n3,4\n1,2', '1,2\n3,4\nfive', '1,2\n3,4\n5', '1,2,3\n3,4\n5,6'])(
    'is not read from %j',
    (text) => {
      expect(fromLines(text)).toBeUndefined();
    },
  );

  it('is written as it is read', () => {
    const ring = fromLines('-20.020377,46\n-19.9,46\n-19.9,46.1') ?? [];
    expect(toLines(ring)).toBe('-20.02038, 46\n-19.9, 46\n-19.9, 46.1');
  });
});
