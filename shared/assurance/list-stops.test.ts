import { describe, expect, it } from 'vitest';
import { buildBoreGraph } from './bore-graph.ts';
import { stand } from './lay-plain.fixture.ts';
import { listStops } from './list-stops.ts';
import { drawNetwork } from './network.fixture.ts';

const network = drawNetwork({ 1: [0, 0], 2: [200, 0] }, [[1, 2]], { oneway: 'no' });
const link = network.links[0]?.id as never;
const idsOf = (beacons: readonly ReturnType<typeof stand>[]) =>
  listStops(buildBoreGraph(network, beacons)).map(({ beaconIds }) => beaconIds);

describe('stops', () => {
  it('are one for beacons opposite each other, in the order of their ids', () => {
    const beacons = [
      stand('b', link, 50, 'right'),
      stand('a', link, 50, 'left'),
      stand('c', link, 50.0009),
      stand('d', link, 50.0011),
    ];
    const along = [[], ['a', 'b', 'c'], ['d'], []];
    expect(idsOf(beacons)).toEqual([...along, ...[...along].reverse()]);
    expect(idsOf([...beacons].reverse())).toEqual(idsOf(beacons));
  });

  it('tell the distances in both directions', () => {
    const stops = listStops(buildBoreGraph(network, [stand('a', link, 50)]));
    const steps = stops.map(({ after }) => after.map(({ distanceM }) => Math.round(distanceM)));
    expect(steps).toEqual([[50], [150], [], [150], [50], []]);
  });
});
