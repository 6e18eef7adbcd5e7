import type { City } from '../city/city.ts';
import type { XY } from '../line/xy.ts';
import { layStreet, type PlaceStretch } from '../streets/lay-street.ts';

const GROUP = 16;

/** Bores with unusual tags, and bores that are not for cars. */
export function layOddBores(city: City): void {
  const bore = (
    through: XY[],
    tags: Record<string, string>,
    near: XY,
    lengthM: number,
    note: string,
    more = {},
  ) => {
    const place: PlaceStretch = { near, lengthM, tags: { tunnel: 'yes', layer: '-1', ...more }, note };
    layStreet(city, { group: GROUP, through, tags, places: [place], bridges: false });
  };
  bore(
    [
      [2010, 590],
      [1850, 555],
      [1700, 530],
      [1480, 495],
      [1260, 470],
      [1100, 445],
      [915, 425],
    ],
    { highway: 'tertiary', name: 'Transit Street', oneway: '-1', lanes: '1', maxspeed: '40' },
    [1480, 495],
    330,
    'oneway=-1',
    { 'tunnel:name': 'Observatory Tunnel' },
  );
  bore(
    [
      [1450, 760],
      [1470, 640],
      [1490, 330],
      [1495, 220],
    ],
    { highway: 'footway', name: 'Observatory Walk', lit: 'yes' },
    [1480, 480],
    240,
    'footway, not for cars',
    { layer: '-2' },
  );
  bore(
    [
      [-2480, -3330],
      [-2800, -3120],
      [-3000, -2950],
      [-3230, -2760],
      [-3560, -2440],
      [-3790, -2180],
      [-3900, -1900],
      [-3860, -1630],
    ],
    { highway: 'cycleway', name: 'Corve Path', surface: 'asphalt' },
    [-3400, -2610],
    620,
    'cycleway, not for cars',
    { layer: '-2' },
  );
  bore(
    [
      [1045, 1820],
      [1120, 2000],
      [1160, 2500],
      [1170, 3000],
      [1090, 3200],
    ],
    { highway: 'construction', construction: 'secondary', name: 'Ridge Road' },
    [1160, 2490],
    900,
    'under construction',
    { 'tunnel:name': 'Wrenlow Tunnel, second bore' },
  );
  bore(
    [
      [-620, -3850],
      [-520, -3900],
      [500, -4150],
      [1620, -4030],
      [1800, -4000],
    ],
    { highway: 'proposed', proposed: 'primary', name: 'Outer Crossing' },
    [550, -4150],
    2260,
    'proposed',
    { layer: '-3' },
  );
  bore(
    [
      [5650, -2150],
      [5850, -2060],
      [6150, -2010],
      [6330, -1700],
      [6330, -1350],
    ],
    { highway: 'abandoned', abandoned: 'tertiary', name: 'Old Head Road' },
    [6060, -2020],
    260,
    'abandoned',
  );
  bore(
    [
      [2480, 830],
      [2600, 815],
      [2696, 800],
      [2800, 790],
      [2900, 770],
    ],
    { highway: 'residential', name: 'Sidings Lane', oneway: '1' },
    [2696, 800],
    45,
    'oneway=1, 45 m below the railway',
  );
  bore(
    [
      [-170, 1850],
      [-110, 1700],
      [-40, 1520],
    ],
    { highway: 'unclassified', name: 'Tenter Lane', oneway: 'true' },
    [-110, 1700],
    55,
    'oneway=true, below the railway',
  );
}
