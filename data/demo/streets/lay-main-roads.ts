import type { City } from '../city/city.ts';
import type { Road } from '../city/lay-road.ts';
import { layColdDown } from '../tunnels/cold-down.ts';
import { turnLastWay } from '../tunnels/fold-hill.ts';
import { layKellHill } from '../tunnels/kell-hill.ts';
import { layQuayside } from '../tunnels/quayside.ts';
import { laySpiral } from '../tunnels/spiral.ts';
import { layRoundabout } from './lay-roundabout.ts';
import { layRoadLines } from './road-line.ts';
import { ROADS_EAST } from './roads-east.ts';
import { ROADS_NORTH } from './roads-north.ts';
import { ROADS_WEST } from './roads-west.ts';

const GROUP = 102;

/** Lays the roads between the districts, with the tunnels that they end on, and returns them by key. */
export function layMainRoads(city: City): Readonly<Record<string, Road>> {
  const { dock, basin } = layQuayside(city);
  const down = layColdDown(city);
  const circus = { highway: 'primary', ref: 'A31' };
  const west = layRoundabout(
    city,
    GROUP,
    [-4230, -300],
    32,
    { ...circus, name: 'Kellwest Circus' },
    { joins: true },
  );
  const east = layRoundabout(
    city,
    GROUP,
    [-2110, -255],
    34,
    { ...circus, name: 'Kellgate Circus' },
    { joins: true },
  );
  const kellNorth = layKellHill(city, west, east);
  const spiral = laySpiral(city);
  const roads = layRoadLines(city, [...ROADS_WEST, ...ROADS_EAST, ...ROADS_NORTH], {
    kellwestWest: west.node(180),
    kellwestSouth: west.node(-60),
    kellgateEast: east.node(0),
    kellNorth,
    spiralTop: spiral.node(spiral.endM),
    lammasWest: down.west.node(180),
    gannetEast: down.east.node(5),
    dockEast: dock.node(-15),
    basinNorth: basin.node(100),
    basinEast: basin.node(30),
  });
  turnLastWay(roads.fold!);
  return roads;
}
