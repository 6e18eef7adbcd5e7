// CommonJS: the default import is the one that plain Node gives.
import geographiclib from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { makeRuler } from './make-ruler.ts';
import { placeBeside } from './place-beside.ts';

const wgs84 = geographiclib.Geodesic.WGS84;
const start: LonLat = [-20, 46];

describe('placeBeside', () => {
  // The truth: GeographicLib's direct problem, square to the line. Right is clockwise: a road north has the east on its right.
  it.each([
    [0, 6],
    [0, -6],
    [90, 4.5],
    [180, 4.5],
    [213, -10.25],
    [301, 25],
  ])('a line in direction %s° has %s m (positive: right) where GeographicLib has it', (azimuth, offsetM) => {
    const end = wgs84.Direct(start[1], start[0], azimuth, 200);
    const ruler = makeRuler([start, [end.lon2 ?? 0, end.lat2 ?? 0]]);
    const middle = wgs84.Direct(start[1], start[0], azimuth, 100);
    const wall = wgs84.Direct(middle.lat2 ?? 0, middle.lon2 ?? 0, (middle.azi2 ?? 0) + 90, offsetM);
    const beside = placeBeside(ruler, ruler.lengthM / 2, offsetM);
    if (!beside.ok) throw new Error(beside.refusal.code);
    const [lon, lat] = beside.value;
    expect(wgs84.Inverse(lat, lon, wall.lat2 ?? 0, wall.lon2 ?? 0).s12).toBeLessThan(0.001);
  });

  it('is what locate finds again, with its sign', () => {
    const ruler = makeRuler([start, [-19.999, 46.0005], [-19.998, 46.0004]]);
    for (const offsetM of [-7, 7]) {
      const beside = placeBeside(ruler, 40, offsetM);
      if (!beside.ok) throw new Error(beside.refusal.code);
      expect(ruler.locate(beside.value).offsetM).toBeCloseTo(offsetM, 3);
    }
  });

  it.each([-1, 1e6, Number.NaN])('refuses chainage %s', (chainageM) => {
    const ruler = makeRuler([start, [-19.999, 46]]);
    expect(placeBeside(ruler, chainageM, 5)).toMatchObject({
      ok: false,
      refusal: { code: 'chainage-out-of-range' },
    });
  });
});
