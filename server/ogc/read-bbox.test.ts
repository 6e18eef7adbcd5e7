import { describe, expect, it } from 'vitest';
import { readBbox } from './read-bbox.ts';

describe('bbox', () => {
  it.each([
    ['-20.1,45.9,-19.9,46.1', [[-20.1, 45.9, -19.9, 46.1]]],
    ['-20.1,45.9,-100,-19.9,46.1,4e3', [[-20.1, 45.9, -19.9, 46.1]]],
    [' 1 , 2 , 1 , 2 ', [[1, 2, 1, 2]]],
    ['-180,-90,180,90', [[-180, -90, 180, 90]]],
    // RFC 7946, 5.2: around Fiji, 5 degrees wide.
    [
      '177,-20,-178,-16',
      [
        [177, -20, 180, -16],
        [-180, -20, -178, -16],
      ],
    ],
  ])('%s', (text, boxes) => {
    expect(readBbox(text)).toEqual({ ok: true, value: boxes });
  });

  it.each([
    ['', /4 or 6 numbers/],
    ['1,2,3', /4 or 6 numbers/],
    ['1,2,3,4,5', /4 or 6 numbers/],
    ['1,2,3,4,5,6,7', /4 or 6 numbers/],
    ['1,2,,4', /must be numbers/],
    ['1,2,NaN,4', /must be numbers/],
    ['1,2,Infinity,4', /must be numbers/],
    ['0x1,2,3,4', /must be numbers/],
    ['1;2;3;4', /4 or 6 numbers/],
    ['1,4,3,2', /south/],
    ['1,-91,3,2', /latitudes/],
    ['1,2,3,90.1', /latitudes/],
    ['-181,2,3,4', /longitudes/],
    ['1,2,1e999,4', /longitudes/],
    ['1,2,9,3,4,8', /height/],
  ])('refuses %s', (text, reason) => {
    expect(readBbox(text)).toMatchObject({
      ok: false,
      refusal: {
        code: 'parameter-invalid',
        context: { name: 'bbox', reason: expect.stringMatching(reason) },
      },
    });
  });
});
