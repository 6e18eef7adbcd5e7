import type { LineString } from 'geojson';
import { describe, expect, it } from 'vitest';
import { makeRuler } from '../../../shared/alignment/make-ruler.ts';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import type { Link } from '../../../shared/network/network.ts';
import { buildSurvey } from '../../../shared/pipeline/build-survey.ts';
import type { KeepOut } from '../../../shared/placement/keep-out.ts';
import { DEFAULT_RULES } from '../../../shared/placement/rules.ts';
import { drawPlace } from '../../../tests/places/draw-place.ts';
import { toKeepOutFeatures } from './to-keep-out-features.ts';

const place = drawPlace({
  nodes: { 1: [0, 0], 2: [200, 0], 3: [400, 100] },
  ways: [{ id: 11, nodes: [1, 2, 3], tags: { highway: 'primary', tunnel: 'yes', lanes: '2' } }],
});
const base = buildSurvey(place, 'place');
if (!base.ok) throw new Error(base.refusal.code);
const link = base.value.network.links[0] as Link;
const ruler = makeRuler(link.line);

const keepOut = (part: Partial<KeepOut>): KeepOut => ({
  id: 'keep-out-1',
  linkId: link.id,
  fromM: 100,
  toM: 104,
  wall: 'right',
  reason: '',
  ...part,
});
const draw = (part: Partial<KeepOut>) => toKeepOutFeatures([link], [keepOut(part)], DEFAULT_RULES).features;
const located = (feature: { geometry: unknown }) =>
  (feature.geometry as LineString).coordinates.map((at) => ruler.locate(at as unknown as LonLat));

describe('toKeepOutFeatures', () => {
  it('draws a line on the wall that is meant: two lanes of 3.5 m and 1 m of shoulder are 4.5 m', () => {
    for (const [wall, offsetM] of [
      ['right', 4.5],
      ['left', -4.5],
    ] as const) {
      const [feature, ...more] = draw({ wall });
      expect(more).toEqual([]);
      const places = located(feature as never);
      expect(places.map(({ offsetM: found }) => Math.round(found * 100) / 100)).toEqual([offsetM, offsetM]);
      expect(places[0]?.chainageM).toBeCloseTo(100, 2);
      expect(places[1]?.chainageM).toBeCloseTo(104, 2);
    }
  });

  it('draws both walls as two lines of their own ids, round the bend with it', () => {
    const features = draw({ wall: 'both', fromM: 190, toM: 210 });
    expect(features.map(({ id }) => id)).toEqual(['keep-out-1/left', 'keep-out-1/right']);
    expect(features.map((feature) => located(feature).length)).toEqual([3, 3]);
  });

  it('draws nothing on a link that is not there, or before the walls are known', () => {
    expect(draw({ linkId: 'gone' as Link['id'] })).toEqual([]);
    expect(toKeepOutFeatures([link], [keepOut({})], undefined).features).toEqual([]);
  });
});
