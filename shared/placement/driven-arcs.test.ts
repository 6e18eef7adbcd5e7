import { expect, it } from 'vitest';
import { drawNetwork, type Nodes } from '../assurance/network.fixture.ts';
import { listApproaches, listDrivenArcs } from './driven-arcs.ts';

it('knows every fork as one where there are more routes than are listed', () => {
  // Twelve times the bore parts and joins again: 4,096 routes.
  const nodes: Record<number, Nodes[number]> = { 1: [0, 0], 2: [1360, 0] };
  const rings = Array.from({ length: 12 }, (_, i) => 100 + 10 * i);
  rings.forEach((node, i) => {
    const eastM = 100 + 100 * i;
    nodes[node] = [eastM, 0];
    nodes[node + 1] = [eastM + 30, 6];
    nodes[node + 2] = [eastM + 30, -6];
    nodes[node + 3] = [eastM + 60, 0];
  });
  const network = drawNetwork(nodes, [
    [1, 100],
    ...rings.flatMap((node) => [
      [node, node + 1, node + 3],
      [node, node + 2, node + 3],
      [node + 3, node === 210 ? 2 : node + 10],
    ]),
  ]);
  expect(network.complex.routes.length).toBeLessThan(4096);
  const driven = listDrivenArcs(network);
  const approaches = network.complex.diverges.map((decision) => listApproaches(driven, decision).length);
  expect(approaches).toEqual(rings.map(() => 1));
  // Only the entry is come to from nowhere.
  expect(driven.arcs.filter((arc) => driven.before[arc]?.length === 0)).toHaveLength(1);
});
