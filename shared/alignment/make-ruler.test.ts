import fc from 'fast-check';
import geographiclib from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { makeRuler } from './make-ruler.ts';

const wgs84 = geographiclib.Geodesic.WGS84;

/** A line of `n` steps of 5 to 50 m that bends by up to 20° at each vertex. */
const wander = fc
  .record({
    lat: fc.double({ min: -65, max: 65, noNaN: true }),
    lon: fc.double({ min: -179, max: 179, noNaN: true }),
    azimuth: fc.double({ min: 0, max: 360, noNaN: true }),
    steps: fc.array(
      fc.record({
        m: fc.double({ min: 5, max: 50, noNaN: true }),
        turn: fc.double({ min: -20, max: 20, noNaN: true }),
      }),
      { minLength: 1, maxLength: 60 },
    ),
  })
  .map(({ lat, lon, azimuth, steps }) => {
    const line: LonLat[] = [[lon, lat]];
    let direction = azimuth;
    for (const step of steps) {
      direction += step.turn;
      const last = line.at(-1) as LonLat;
      const next = wgs84.Direct(last[1], last[0], direction, step.m);
      line.push([next.lon2 ?? 0, next.lat2 ?? 0]);
    }
    return line;
  });

describe('makeRuler', () => {
  it('gives a 10 km chainage within 5 mm of GeographicLib', () => {
    const line: LonLat[] = [[-20, 46]];
    let truthM = 0;
    for (let i = 0; i < 400; i += 1) {
      const last = line.at(-1) as LonLat;
      const next = wgs84.Direct(last[1], last[0], 45 + 40 * Math.sin(i / 30), 25);
      line.push([next.lon2 ?? 0, next.lat2 ?? 0]);
      truthM += wgs84.Inverse(last[1], last[0], next.lat2 ?? 0, next.lon2 ?? 0).s12 ?? Number.NaN;
    }
    expect(truthM).toBeGreaterThan(9_999);
    expect(Math.abs(makeRuler(line).lengthM - truthM)).toBeLessThan(0.005);
  });

  it('refuses −1, length + 1 and NaN', () => {
    const ruler = makeRuler([
      [0, 50],
      [0.01, 50],
    ]);
    for (const chainageM of [-1, ruler.lengthM + 1, Number.NaN]) {
      for (const answer of [
        ruler.pointAt(chainageM),
        ruler.bearingAt(chainageM),
        ruler.slice(chainageM, 5),
      ]) {
        expect(answer).toMatchObject({ ok: false, refusal: { code: 'chainage-out-of-range' } });
      }
    }
    expect(() => makeRuler([[0, 50]])).toThrow(RangeError);
    expect(() =>
      makeRuler([
        [0, 50],
        [Number.NaN, 50],
      ]),
    ).toThrow(RangeError);
  });

  it('finds every chainage again', () => {
    fc.assert(
      fc.property(wander, fc.double({ min: 0, max: 1, noNaN: true }), (line, share) => {
        const ruler = makeRuler(line);
        const chainageM = share * ruler.lengthM;
        const point = ruler.pointAt(chainageM);
        if (!point.ok) throw new Error('refused');
        const located = ruler.locate(point.value);
        expect(located.distanceM).toBeLessThan(0.001);
        // A line may cross itself: then another place is as near. The place found must be the same position.
        const again = ruler.pointAt(located.chainageM);
        if (!again.ok) throw new Error('refused');
        expect(
          wgs84.Inverse(point.value[1], point.value[0], again.value[1], again.value[0]).s12,
        ).toBeLessThan(0.001);
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('gives length − s on the reversed line', () => {
    fc.assert(
      fc.property(wander, fc.double({ min: 0, max: 1, noNaN: true }), (line, share) => {
        const ruler = makeRuler(line);
        const mirror = makeRuler([...line].reverse());
        const a = ruler.pointAt(share * ruler.lengthM);
        const b = mirror.pointAt((1 - share) * mirror.lengthM);
        if (!a.ok || !b.ok) throw new Error('refused');
        expect(wgs84.Inverse(a.value[1], a.value[0], b.value[1], b.value[0]).s12).toBeLessThan(1e-4);
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  it('counts offset positive to the right of the direction of chainage', () => {
    const north = makeRuler([
      [0, 50],
      [0, 50.01],
    ]);
    expect(north.locate([0.0001, 50.005]).offsetM).toBeCloseTo(7.17, 1);
    expect(north.locate([-0.0001, 50.005]).offsetM).toBeCloseTo(-7.17, 1);
  });

  it('slices with the vertices between', () => {
    const ruler = makeRuler([
      [0, 50],
      [0.001, 50],
      [0.002, 50],
    ]);
    const slice = ruler.slice(10, ruler.lengthM - 10);
    if (!slice.ok) throw new Error('refused');
    expect(slice.value).toHaveLength(3);
    expect(makeRuler(slice.value).lengthM).toBeCloseTo(ruler.lengthM - 20, 3);
  });
});
