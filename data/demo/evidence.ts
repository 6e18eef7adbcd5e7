import { type PlainNode, type PlainOsm, readByPattern } from './read-by-pattern.ts';

/** Invented counts and an invented inventory of beacons for the city, as CSV. */
export type DemoEvidence = { readonly traffic: string; readonly beacons: string };

/** Metres in a degree of latitude near 46° N; enough for walls that nobody surveyed. */
const DEGREE_M = 111_145;

/** What somebody counted: by way, by ref, by name; the last three rows show what a report has to tell. */
const COUNTS = [
  ['', '', 'Aldermouth Harbour Tunnel', 64000, '11 %'],
  ['', '', 'Corve Hill Tunnel', 58000, '12 %'],
  [1900002003, '', 'Kell Hill Interchange', 20400, '8 %'],
  [1900002008, '', 'Kell Hill Interchange', 20900, '8 %'],
  [1900011004, '', 'Quayside Tunnel westbound', 14800, '6 %'],
  [1900011007, '', 'Quayside Tunnel eastbound', 15300, '6 %'],
  [1900003004, '', 'Wrenlow Tunnel', 9200, '0.04'],
  ['', '', 'Fold Hill Tunnel', 11700, '0.05'],
  ['', '', 'Tolland Tunnel', 7600, ''],
  [1900105017, '', 'Gannet Head Tunnel', 13100, '7 %'],
  ['', '', 'Lower Ferry Road', 5200, '3 %'],
  ['', '', 'Corvesand Tunnel', 'n/a', ''],
  [1900104008, '', 'Old Wall Tunnel', 16400, '120 %'],
];

/** One wall of Wrenlow Tunnel from end to end, and of Fold Hill Tunnel as far as the money went. */
const WRENLOW = [1900003004];
const FOLD_HILL = [1900006002, 1900006003, 1900006004, 1900006005, 1900006006, 1900006007];
const STEP_M = 38;
const WALL_M = 4.5;

/** Makes both files from the city's extract; the result is the same every time. */
export function buildEvidence(osm: string): DemoEvidence {
  const city = readByPattern(osm);
  const eastbound = middleOf(city, 1900100033);
  const between = middle(eastbound, nearestOf(city, [1900100004, 1900100005, 1900100006], eastbound));
  const rows = [
    ...alongWays(city, WRENLOW, 900).map((at, i) => toRow(`AL-${1001 + i}`, at, i === 9 ? 'dead' : 'heard')),
    ...alongWays(city, FOLD_HILL, 320).map((at, i) => toRow(`AL-${2001 + i}`, at, 'heard')),
    // Half-way between two bores, one that was taken down, and one in the depot.
    toRow('AL-3001', between, 'heard'),
    toRow('AL-3002', middleOf(city, 1900016002), 'removed'),
    toRow('AL-3003', { lon: -20.0005, lat: 46.0491 }, 'heard', 'last spring'),
  ];
  return {
    traffic: toText(['way', 'ref', 'name', 'vehicles_per_day', 'heavy_share'], COUNTS),
    beacons: toText(['device_id', 'lon', 'lat', 'state', 'install_date'], rows),
  };
}

type Place = Pick<PlainNode, 'lon' | 'lat'>;

/** Places along the right wall of ways that follow each other, over their first `untilM` metres. */
function alongWays({ nodes, ways }: PlainOsm, ids: readonly number[], untilM: number): Place[] {
  const line = ids
    .flatMap((id) => ways.find((way) => way.id === id)?.nodes ?? [])
    .map((id) => nodes.get(id)!);
  const steps = line.slice(1).map((to, i) => ({ from: line[i]!, ...deltaM(line[i]!, to) }));
  const places: Place[] = [];
  let startM = 0;
  let nextM = STEP_M / 2;
  for (const { from, eastM, northM, lengthM: stepM } of steps) {
    for (; nextM < startM + stepM && nextM <= untilM; nextM += STEP_M) {
      const along = (nextM - startM) / stepM;
      places.push(
        move(from, along * eastM + (WALL_M * northM) / stepM, along * northM - (WALL_M * eastM) / stepM),
      );
    }
    startM += stepM;
  }
  return places;
}

function deltaM(from: Place, to: Place) {
  const northM = (to.lat - from.lat) * DEGREE_M;
  const eastM = (to.lon - from.lon) * DEGREE_M * Math.cos((from.lat * Math.PI) / 180);
  return { eastM, northM, lengthM: Math.hypot(eastM, northM) };
}

function move(from: Place, eastM: number, northM: number): Place {
  const lonM = DEGREE_M * Math.cos((from.lat * Math.PI) / 180);
  return { lon: from.lon + eastM / lonM, lat: from.lat + northM / DEGREE_M };
}

function middleOf({ nodes, ways }: PlainOsm, id: number): PlainNode {
  const own = ways.find((way) => way.id === id)!.nodes;
  return nodes.get(own[own.length >> 1]!)!;
}

function nearestOf({ nodes, ways }: PlainOsm, ids: readonly number[], to: Place): PlainNode {
  const all = ways
    .filter(({ id }) => ids.includes(id))
    .flatMap((way) => way.nodes.map((id) => nodes.get(id)!));
  return all.reduce((best, one) => (deltaM(to, one).lengthM < deltaM(to, best).lengthM ? one : best));
}

function middle(a: Place, b: Place): Place {
  return { lon: (a.lon + b.lon) / 2, lat: (a.lat + b.lat) / 2 };
}

function toRow(device: string, { lon, lat }: Place, state: string, date = '2024-05-14') {
  return [device, lon.toFixed(7), lat.toFixed(7), state, date];
}

function toText(heads: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  return `${[heads, ...rows].map((cells) => cells.join(',')).join('\n')}\n`;
}
