import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import type { Tags } from '../osm/extract.ts';
import { buildNetwork, NETWORK_RULES } from './build-network.ts';

const bore = { highway: 'primary', oneway: 'yes', tunnel: 'yes' };

/**
 * A one-way bore from the west forks below ground: way 20 turns 11° to the left, way 30 34° to the right. The
 * straighter one wins where nothing else tells them apart.
 */
function forkOf(left: Tags, right: Tags, from: Tags = {}) {
  const { value } = buildNetwork(
    drawPlace({
      nodes: { 1: [-300, 0], 2: [0, 0], 3: [300, 60], 4: [300, -200] },
      ways: [
        { id: 10, nodes: [1, 2], tags: { ...bore, ...from } },
        { id: 20, nodes: [2, 3], tags: { ...bore, ...left } },
        { id: 30, nodes: [2, 4], tags: { ...bore, ...right } },
      ],
    }),
    NETWORK_RULES,
  );
  const branches = value.complexes[0]?.diverges[0]?.branches ?? [];
  return {
    exits: branches.filter((branch) => branch.exit).map((branch) => branch.wayId),
    reasons: [...new Set(branches.map((branch) => branch.reason))],
    bearings: branches.map((branch) => branch.bearingDeg),
  };
}

describe('the exit of a fork', () => {
  it.each([
    ['the sharper turn where all else is equal', {}, {}, {}, 30, 'angle'],
    ['the class that is farther from the one before', { highway: 'secondary' }, {}, {}, 20, 'class'],
    ['the ramp', { highway: 'primary_link' }, {}, {}, 20, 'class'],
    ['the way with an exit number', { 'junction:ref': '3' }, {}, {}, 20, 'junction-ref'],
    ['the way that is signed to somewhere', { destination: 'Quay' }, {}, {}, 20, 'destination'],
    ['the way of another name', { name: 'B' }, { name: 'A' }, { name: 'A' }, 20, 'name'],
    ['the way of another ref', { ref: 'A 2' }, { ref: 'A 1' }, { ref: 'A 1' }, 20, 'name'],
    ['the way with fewer lanes', { lanes: '1' }, { lanes: '2' }, {}, 20, 'lanes'],
    ['told by class before lanes', { highway: 'primary_link', lanes: '3' }, { lanes: '1' }, {}, 20, 'class'],
    ['told by number before name', { 'junction:ref': '3', name: 'A' }, {}, { name: 'A' }, 20, 'junction-ref'],
  ] as const)('is %s', (_, left, right, from, exit, reason) => {
    expect(forkOf(left, right, from)).toMatchObject({ exits: [exit], reasons: [reason] });
  });

  it('heads where its way goes', () => {
    // From north: atan2(300, 60) and atan2(300, −200).
    expect(forkOf({}, {}).bearings).toEqual([78.7, 123.7]);
  });
});

describe('a bend right behind the nose', () => {
  it('does not hide where a branch is going: its heading is taken 30 m on', () => {
    const { value } = buildNetwork(
      drawPlace({
        // Both leave straight on; after 5 m way 30 turns off to the south.
        nodes: { 1: [-300, 0], 2: [0, 0], 3: [300, 60], 4: [5, 2], 5: [5, -200] },
        ways: [
          { id: 10, nodes: [1, 2], tags: bore },
          { id: 20, nodes: [2, 3], tags: bore },
          { id: 30, nodes: [2, 4, 5], tags: bore },
        ],
      }),
      NETWORK_RULES,
    );
    const exits = value.complexes[0]?.diverges[0]?.branches.filter((branch) => branch.exit);
    expect(exits?.map((branch) => branch.wayId)).toEqual([30]);
  });
});
