import { describe, expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from './build-network.ts';

const tags = { highway: 'motorway', tunnel: 'yes', name: 'Long Bore' };

/** Two bores of one name on one line, `gapM` of open air between. */
function opening(gapM: number): PlaceDrawing {
  return {
    nodes: { 1: [0, 0], 2: [400, 0], 3: [400 + gapM, 0], 4: [800 + gapM, 0] },
    ways: [
      { id: 11, nodes: [1, 2], tags },
      { id: 12, nodes: [3, 4], tags },
    ],
  };
}

/** A bore of 42 km with a ramp every 300 m: a ring road below ground. */
function longBore(firstNode: number, firstWay: number, northM: number): PlaceDrawing {
  const nodes: Record<number, readonly [number, number]> = {};
  const main = Array.from({ length: 141 }, (_, i) => {
    nodes[firstNode + i] = [i * 300, northM];
    return firstNode + i;
  });
  const ramps = main.slice(1, -1).map((node, i) => {
    const end = firstNode + 500 + i;
    nodes[end] = [i * 300 + 350, northM + 50];
    return { id: firstWay + 1 + i, nodes: [node, end], tags: { ...tags, highway: 'motorway_link' } };
  });
  return { nodes, ways: [{ id: firstWay, nodes: main, tags }, ...ramps] };
}

describe('bores of one name', () => {
  const groupingOf = (drawing: PlaceDrawing) =>
    buildNetwork(drawPlace(drawing), NETWORK_RULES).value.complexes.map((complex) => complex.grouping);

  it.each([20, 60, 97])('are as far apart as the opening between them: %s m', (gapM) => {
    expect(groupingOf(opening(gapM))).toMatchObject([
      [{ reason: 'same-name', detail: `Long Bore, ${gapM} m apart` }],
    ]);
  });

  it('stay apart beyond 100 m', () => {
    expect(groupingOf(opening(103))).toEqual([[], []]);
  });

  it('may be of any length', () => {
    const [north, south] = [longBore(1, 1000, 60), longBore(2000, 5000, -60)];
    const both = { nodes: { ...north.nodes, ...south.nodes }, ways: [...north.ways, ...south.ways] };
    const [grouping, ...more] = groupingOf(both);
    expect(more).toEqual([]);
    expect(grouping?.at(-1)).toMatchObject({ reason: 'same-name', detail: 'Long Bore, 70 m apart' });
  });
});

describe('unnamed bores of opposite direction', () => {
  const one = { highway: 'primary', tunnel: 'yes', oneway: 'yes' };
  it.each([
    [100, 1],
    [60, 1],
    [40, 2],
  ])('that run side by side over %s percent of the shorter one: tunnels %s', (percent, count) => {
    const eastM = 400 - 4 * percent;
    const drawing: PlaceDrawing = {
      nodes: { 1: [0, 0], 2: [400, 0], 3: [400 + eastM, 30], 4: [eastM, 30] },
      ways: [
        { id: 11, nodes: [1, 2], tags: one },
        { id: 12, nodes: [3, 4], tags: one },
      ],
    };
    expect(buildNetwork(drawPlace(drawing), NETWORK_RULES).value.complexes).toHaveLength(count);
  });
});
