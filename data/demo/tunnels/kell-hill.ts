import { type City, type Point, toPoint, toXY } from '../city/city.ts';
import { type Dual, layDual } from '../city/lay-dual.ts';
import { setOut, spline, sweep } from '../line/curves.ts';
import { lengthM } from '../line/polyline.ts';
import { polar, type XY } from '../line/xy.ts';
import { layRoundabout, type Roundabout } from '../streets/lay-roundabout.ts';
import { KELL_BORED, KELL_GROUP, layRamp, TO_END } from './kell-hill-ramp.ts';
import { layKellSouth } from './kell-hill-south.ts';

const HALL: XY = [-2900, -300];
const MAIN = {
  highway: 'trunk',
  ref: 'A31',
  name: 'Kell Parkway',
  oneway: 'yes',
  lanes: '2',
  maxspeed: '70',
  dual_carriageway: 'yes',
};

/**
 * Lays the interchange under Kell Hill between the two roundabouts: 4 entries, 5 exits, 3 merges, 4 diverges and a
 * roundabout below ground. Returns the node in the north where its two ramps meet the open road.
 */
export function layKellHill(city: City, west: Roundabout, east: Roundabout): Point {
  const main = layMain(city, west, east);
  const hallTags = {
    highway: 'primary',
    ...KELL_BORED,
    layer: '-3',
    maxspeed: '30',
    lanes: '1',
    name: 'Kell Hall',
  };
  const hall = layRoundabout(city, KELL_GROUP, HALL, 34, hallTags, { note: 'roundabout below ground' });
  layEastboundExit(city, main, hall);
  const north = layNorthRamps(city, hall);
  layKellSouth(city, main, hall);
  return north;
}

function layMain(city: City, west: Roundabout, east: Roundabout): Dual {
  const middle = setOut([
    [-4199, -300],
    [-3480, -150, 700],
    [-2880, -90, 1200],
    [-2143, -250],
  ]);
  const total = lengthM(middle);
  const [from, to] = [735, 1905];
  const bored = { ...KELL_BORED, layer: '-1' };
  const deep = { from: from + 130, to: to - 110, tags: { layer: '-2' } };
  return layDual(city, middle, {
    group: KELL_GROUP,
    tags: MAIN,
    halfGapM: (s) => 8 + 12 * smooth(Math.min((s - 250) / 500, (total - s - 50) / 350)),
    ends: {
      forthFirst: west.node(-14),
      backLast: west.node(14),
      forthLast: east.node(194),
      backFirst: east.node(166),
    },
    forthOnly: [{ from, to, tags: bored, note: 'main bore eastbound' }, deep],
    backOnly: [{ from: from + 15, to, tags: bored, note: 'main bore westbound' }, deep],
  });
}

function smooth(t: number): number {
  const c = Math.min(1, Math.max(0, t));
  return c * c * (3 - 2 * c);
}

/** From the eastbound bore down to the hall. */
function layEastboundExit(city: City, main: Dual, hall: Roundabout): void {
  const from = 905;
  const diverge = main.forth.node(from);
  diverge.tags = { highway: 'motorway_junction', ref: '2', name: 'Kell Hall' };
  const end = hall.node(160);
  layRamp(city, {
    line: sweep(toXY(diverge), main.forth.heading(from), toXY(end), polar([0, 0], 1, -38), 8),
    tags: {
      highway: 'trunk_link',
      lanes: '1',
      maxspeed: '50',
      destination: 'The Rounds;Kellfoot',
      'junction:ref': '2',
    },
    note: 'ramp from the eastbound bore to the hall',
    layers: [
      [0, 120, '-2'],
      [120, TO_END, '-3'],
    ],
    first: diverge,
    last: end,
  });
}

/** The pair of one-way primaries between the hall and the northern portals. */
function layNorthRamps(city: City, hall: Roundabout): Point {
  const open = toPoint([-2868, 830]);
  const tags = { highway: 'primary', ref: 'A33', name: 'Kell North Ramp', lanes: '1', maxspeed: '50' };
  const into = hall.node(105);
  const down: XY[] = [
    [-2925, 740],
    [-2955, 520],
    [-2950, 250],
    [-2925, 0],
    [-2898, -150],
    [-2893, -225],
  ];
  layRamp(city, {
    line: spline([toXY(open), ...down, toXY(into)], 8),
    tags,
    note: 'north entry',
    layers: [
      [340, 520, '-1'],
      [520, 760, '-2'],
      [760, TO_END, '-3'],
    ],
    bored: [340, TO_END],
    first: open,
    last: into,
  });
  const out = hall.node(60);
  const up: XY[] = [
    [-2866, -215],
    [-2850, -100],
    [-2825, 150],
    [-2795, 400],
    [-2792, 600],
    [-2815, 740],
  ];
  layRamp(city, {
    line: spline([toXY(out), ...up, toXY(open)], 8),
    tags: { ...tags, destination: 'Fold;Osterness' },
    note: 'north exit',
    layers: [
      [0, 330, '-3'],
      [330, 560, '-2'],
      [560, 770, '-1'],
    ],
    bored: [0, 770],
    first: out,
    last: open,
  });
  return open;
}
