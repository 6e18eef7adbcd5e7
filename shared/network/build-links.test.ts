import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import type { BBox } from '../geodesy/lon-lat.ts';
import { moveBy } from '../geodesy/segment.ts';
import type { Tags } from '../osm/extract.ts';
import { buildNetwork, NETWORK_RULES } from './build-network.ts';

const bore = { highway: 'primary', tunnel: 'yes' };

/** A bore of two ways that meet at node 2. */
function two(first: Tags, second: Tags, bbox?: BBox) {
  const place = drawPlace({
    nodes: { 1: [-200, 0], 2: [0, 0], 3: [200, 0] },
    ways: [
      { id: 11, nodes: [1, 2], tags: { ...bore, ...first } },
      { id: 12, nodes: [2, 3], tags: { ...bore, ...second } },
    ],
  });
  return buildNetwork(bbox === undefined ? place : { ...place, bbox }, NETWORK_RULES).value;
}

const linksOf = (first: Tags, second: Tags) =>
  two(first, second).links.map((link) => [link.fromNode, link.toNode, link.restricted]);

describe('a link', () => {
  it('goes on where only names, lanes, limits or classes change', () => {
    expect(
      linksOf({ name: 'A', lanes: '2' }, { name: 'B', lanes: '3', maxspeed: '30', highway: 'secondary' }),
    ).toEqual([[1, 3, false]]);
  });

  it('ends where the access changes', () => {
    expect(linksOf({}, { access: 'private' })).toEqual([
      [1, 2, false],
      [2, 3, true],
    ]);
  });

  it('ends where one-way traffic begins, and where two one-way pieces run against each other', () => {
    expect(linksOf({}, { oneway: 'yes' })).toHaveLength(2);
    expect(linksOf({ oneway: 'yes' }, { oneway: '-1' })).toHaveLength(2);
    expect(linksOf({ oneway: 'yes' }, { oneway: 'yes' })).toEqual([[1, 3, false]]);
    // Drawn against each other, driven the same way.
    expect(linksOf({ oneway: '-1' }, { oneway: '-1' })).toEqual([[3, 1, false]]);
  });
});

describe('a bore that ends at the edge of the area that the file claims to cover', () => {
  const box = (west: number, east: number): BBox => {
    const [w, s] = moveBy([-20, 46], west, -500);
    const [e, n] = moveBy([-20, 46], east, 500);
    return [w, s, e, n];
  };
  it.each([
    [box(-500, 500), [false, false]],
    [box(-150, 500), [true, false]],
    [box(-500, 150), [false, true]],
    [undefined, [false, false]],
  ])('is cut there and no dead end: %j', (bbox, cut) => {
    const portals = two({}, {}, bbox).complexes[0]?.portals ?? [];
    expect(portals.map((portal) => portal.edgeOfExtract)).toEqual(cut);
    expect(portals.map((portal) => portal.deadEnd)).toEqual(cut.map((isCut) => !isCut));
  });
});
