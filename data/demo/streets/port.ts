import { type City, type Point, toXY } from '../city/city.ts';
import type { Road } from '../city/lay-road.ts';
import { distanceM, type XY } from '../line/xy.ts';
import { layStreet } from './lay-street.ts';

const GROUP = 221;
const QUAY = { highway: 'unclassified', name: 'Quay Road', maxspeed: '30' };
const SERVICE = { highway: 'service' };

/** One service road out on each quay. */
const QUAYS: readonly XY[][] = [
  [
    [1850, -2330],
    [1640, -2330],
    [1450, -2350],
  ],
  [
    [1880, -2500],
    [1660, -2480],
    [1470, -2470],
  ],
  [
    [1880, -2790],
    [1700, -2800],
    [1540, -2800],
  ],
  [
    [1900, -3190],
    [1760, -3150],
    [1620, -3100],
  ],
  [
    [2090, -3560],
    [1880, -3530],
    [1660, -3470],
  ],
  [
    [2096, -3960],
    [1850, -3900],
    [1600, -3850],
  ],
  [
    [2050, -4320],
    [1850, -4320],
    [1640, -4270],
  ],
  [
    [1930, -4550],
    [1820, -4500],
    [1700, -4480],
  ],
];

/** Roads of the port: along the docks, out on the quays, and over the railway on the level. */
export function layPort(city: City, railway: Road): void {
  const lay = (through: XY[], tags: Record<string, string>, ends: { first?: Point; last?: Point } = {}) =>
    layStreet(city, { group: GROUP, through, tags, bridges: false, ...ends });
  lay(
    [
      [1700, -1940],
      [1830, -2250],
      [1890, -2640],
      [1850, -3000],
      [1900, -3200],
      [2075, -3380],
      [2095, -3760],
      [2085, -4150],
      [2010, -4400],
      [1860, -4640],
    ],
    QUAY,
  );
  for (const [i, through] of QUAYS.entries()) lay(through, { ...SERVICE, name: `Quay ${i + 1}` });
  [-2450, -3600, -4090].forEach((north) => {
    const crossing = levelCrossing(railway, north);
    const [x, y] = toXY(crossing);
    lay(
      [
        [north < -3000 ? 2090 : 1875, y + 6],
        [x, y],
      ],
      SERVICE,
      { last: crossing },
    );
    lay(
      [
        [x, y],
        [2425, y - 8],
      ],
      SERVICE,
      { first: crossing },
    );
  });
  const bore = { tunnel: 'yes', layer: '-1', access: 'no' };
  layStreet(city, {
    group: GROUP,
    through: [
      [2440, -3760],
      [2560, -3740],
      [2700, -3700],
      [2790, -3650],
    ],
    tags: { ...SERVICE, name: 'Conveyor Way' },
    places: [{ near: [2600, -3730], lengthM: 140, tags: bore, note: 'access=no' }],
    bridges: false,
  });
}

function levelCrossing(railway: Road, north: number): Point {
  let best = 0;
  for (let s = 0; s < 4000; s += 2) {
    if (distanceM([0, railway.at(s)[1]], [0, north]) < distanceM([0, railway.at(best)[1]], [0, north]))
      best = s;
  }
  const point = railway.node(best);
  point.tags = { railway: 'level_crossing' };
  return point;
}
