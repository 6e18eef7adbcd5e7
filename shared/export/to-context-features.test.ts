import { check } from '@placemarkio/check-geojson';
import { describe, expect, it } from 'vitest';
import type { OsmExtract, OsmNode } from '../osm/extract.ts';
import { makeCollection } from './make-collection.ts';
import { OSM_ORIGIN } from './origin.ts';
import { toContextFeatures } from './to-context-features.ts';

const nodesAt = (places: readonly (readonly [number, number])[]): OsmNode[] =>
  places.map(([lon, lat], i) => ({ id: i + 1, lon, lat }));
const island = nodesAt([
  [1, 1],
  [2, 1],
  [1, 2],
]);

function seaOf(nodes: OsmNode[], ...coasts: number[][]) {
  const ways = coasts.map((coast, i) => ({ id: i + 1, nodes: coast, tags: { natural: 'coastline' } }));
  const extract: OsmExtract = { source: { format: 'osm-xml' }, nodes, ways, relations: [] };
  const collection = makeCollection(toContextFeatures(extract), OSM_ORIGIN);
  // An independent checker of RFC 7946; throws with every fault it finds.
  check(JSON.stringify(collection));
  return collection.features.find((feature) => feature.id === 'sea');
}

describe('the sea', () => {
  it('lies around an island, whatever pieces its coast is drawn in', () => {
    for (const coasts of [
      [[1, 2, 3, 1]],
      [
        [1, 2],
        [2, 3],
        [3, 1],
      ],
      [
        [3, 1],
        [1, 2, 3],
      ],
    ]) {
      const sea = seaOf(island, ...coasts);
      expect(sea?.properties).toEqual({ natural: 'water', 'boremark:sea': 'yes' });
      expect(sea?.geometry.type === 'Polygon' && sea.geometry.coordinates[1]).toHaveLength(4);
    }
  });

  it.each([
    ['the coast is open', [[1, 2, 3]]],
    ['a position is missing', [[1, 2, 9, 1]]],
    ['the coast has no nodes', [[]]],
    ['the coast has one node', [[1]]],
    ['the coast goes there and back', [[1, 2, 1]]],
  ])('is not drawn where %s', (_, coasts) => {
    expect(seaOf(island, ...coasts)).toBeUndefined();
  });

  it('ends at the date line and short of the poles', () => {
    const sea = seaOf(
      nodesAt([
        [179, 88],
        [179.9, 88],
        [179.5, 88.5],
      ]),
      [1, 2, 3, 1],
    );
    const outer = sea?.geometry.type === 'Polygon' ? (sea.geometry.coordinates[0] ?? []) : [];
    expect(Math.max(...outer.map(([lon]) => lon as number))).toBe(180);
    expect(Math.max(...outer.map(([, lat]) => lat as number))).toBe(89);
  });
});
