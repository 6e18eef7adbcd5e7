import { describe, expect, it } from 'vitest';
import { NO_TILES, toTileUrl } from './tile-url.ts';

describe('toTileUrl', () => {
  it('names the survey and its revision, and leaves the braces to the map', () => {
    expect(toTileUrl({ surveyId: 'a&b', revision: 7 }, 'https://map.test/#/a')).toBe(
      'https://map.test/tiles/tunnels/{z}/{x}/{y}?survey=a%26b&revision=7',
    );
  });

  it('has nothing where no survey is open', () => {
    expect(toTileUrl(undefined, 'https://map.test/')).toBe(NO_TILES);
  });
});
