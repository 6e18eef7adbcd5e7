import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import type { Tags } from '../osm/extract.ts';
import { buildNetwork, NETWORK_RULES } from './build-network.ts';

/** A bore 1–3–2 of 400 m, and a motorway in the open air right above it, with a node 8 m from the bore's line. */
function featuresOf(tags: Readonly<Record<number, Tags>>) {
  const place = drawPlace({
    nodes: {
      1: [-200, 0],
      2: [200, 0],
      3: [0, 0],
      4: [-100, -200],
      5: [-100, 8],
      6: [-100, 200],
      7: [50, 14],
      8: [50, -16],
    },
    ways: [
      { id: 11, nodes: [1, 3, 2], tags: { highway: 'trunk', tunnel: 'yes', layer: '-1' } },
      { id: 12, nodes: [4, 5, 6], tags: { highway: 'motorway' } },
    ],
  });
  const nodes = place.nodes.map((node) => {
    const own = tags[node.id];
    return own === undefined ? node : { ...node, tags: own };
  });
  const { value } = buildNetwork({ ...place, nodes }, NETWORK_RULES);
  return value.complexes.flatMap((complex) => complex.features);
}

describe('what stands along a bore', () => {
  it('has its chainage and its side', () => {
    const [phone, ...more] = featuresOf({ 7: { emergency: 'phone', ref: '12' } });
    expect(more).toEqual([]);
    expect(phone).toMatchObject({ kind: 'emergency phone', osm: { type: 'node', id: 7 }, label: '12' });
    // Drawn from west to east: 14 m to the north is to the left.
    expect(phone?.chainageM).toBeCloseTo(250, 2);
    expect(phone?.offsetM).toBeCloseTo(-14, 2);
  });

  it('is not farther than 15 m away', () => {
    expect(featuresOf({ 8: { emergency: 'phone' } })).toEqual([]);
  });

  it('is a junction only where it is a node of the bore, not of a road above it', () => {
    expect(featuresOf({ 3: { highway: 'motorway_junction', ref: '7' } })).toMatchObject([
      { kind: 'junction', label: '7' },
    ]);
    expect(featuresOf({ 5: { highway: 'motorway_junction', ref: '7' } })).toEqual([]);
  });
});
