import { describe, expect, it } from 'vitest';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { packExtract, unpackExtract } from './pack-extract.ts';

const place: OsmExtract = {
  ...drawPlace({
    nodes: { 1: [0, 0], 2: [400, 0] },
    ways: [{ id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes', name: 'Līnea\nzwei' } }],
    relations: [{ id: 5, members: [{ type: 'way', ref: 11, role: '' }], tags: { type: 'tunnel' } }],
  }),
  bbox: [-21, 45, -19, 47],
};

describe('a packed extract', () => {
  it('gives back what was packed', async () => {
    expect(await unpackExtract((await packExtract(place)).bytes)).toEqual(place);
    const { bbox: _, ...open } = place;
    expect(await unpackExtract((await packExtract(open)).bytes)).toEqual(open);
  });

  it('with more elements than go on one line is whole', async () => {
    const nodes = Array.from({ length: 12_345 }, (_, i) => ({ id: i + 1, lon: i / 1e5, lat: 46 }));
    expect((await unpackExtract((await packExtract({ ...place, nodes })).bytes)).nodes).toEqual(nodes);
  });

  it('has an id of what it holds, not of the file it came in', async () => {
    const { id } = await packExtract(place);
    expect((await packExtract({ ...place, source: { format: 'osm-pbf', timestamp: 'later' } })).id).toBe(id);
    const nodes = place.nodes.map((node) => (node.id === 2 ? { ...node, lat: node.lat + 1e-7 } : node));
    expect((await packExtract({ ...place, nodes })).id).not.toBe(id);
    expect((await packExtract({ ...place, bbox: [-21, 45, -19, 48] })).id).not.toBe(id);
  });
});
