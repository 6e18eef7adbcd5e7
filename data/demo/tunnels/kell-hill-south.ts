import { type City, type Point, toPoint, toXY, type Way } from '../city/city.ts';
import type { Dual } from '../city/lay-dual.ts';
import { spline } from '../line/curves.ts';
import { lengthM } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';
import type { Roundabout } from '../streets/lay-roundabout.ts';
import { KELL_GROUP, layRamp, TO_END } from './kell-hill-ramp.ts';

/** Lays the ramps between the main bores, the hall and the southern portals; two of them cross at signals. */
export function layKellSouth(city: City, main: Dual, hall: Roundabout): void {
  const signals: Point = { ...toPoint([-3125, -470]), tags: { highway: 'traffic_signals' } };
  const south = layWestboundExit(city, main, signals);
  layHallExit(city, hall, signals, south);
  laySouthEntry(city, main);
}

/** From the westbound bore over both bores to the south; straight on only at the signals. Returns its last part. */
function layWestboundExit(city: City, main: Dual, signals: Point): Way {
  const diverge = main.back.node(1660);
  diverge.tags = { highway: 'motorway_junction', ref: '3', name: 'Southgate' };
  const [x, y] = toXY(diverge);
  const over: XY[] = [
    [x - 60, y + 19],
    [x - 120, y + 48],
    [-2840, 30],
    [-2940, 44],
    [-3030, 8],
    [-3092, -75],
  ];
  const tags = { highway: 'trunk_link', lanes: '1', maxspeed: '50', destination: 'Southgate;Corvesand' };
  const before = layRamp(city, {
    line: spline([[x, y], ...over, [-3112, -200], [-3118, -340], toXY(signals)], 8),
    tags: { ...tags, 'junction:ref': '3' },
    note: 'ramp over the main bores',
    layers: [
      [0, 140, '-2'],
      [140, TO_END, '-1'],
    ],
    first: diverge,
    last: signals,
  });
  const after = layRamp(city, {
    line: spline(
      [toXY(signals), [-3135, -600], [-3150, -730], [-3162, -900], [-3155, -1120], [-3150, -1300]],
      8,
    ),
    tags: { highway: 'secondary', name: 'Southgate Ramp', lanes: '1', maxspeed: '50' },
    note: 'south exit',
    layers: [[0, 262, '-1']],
    bored: [0, 262],
    first: signals,
  });
  restrict(city, before.ways.at(-1)!, signals, after.ways[0]!, { restriction: 'only_straight_on' });
  return after.ways[0]!;
}

/** From the hall to the west; only buses may turn left at the signals. */
function layHallExit(city: City, hall: Roundabout, signals: Point, south: Way): void {
  const out = hall.node(212);
  const tags = { highway: 'secondary_link', lanes: '1', maxspeed: '40', destination: 'Kellfoot' };
  const before = layRamp(city, {
    line: spline([toXY(out), [-2942, -368], [-2985, -430], [-3050, -460], toXY(signals)], 8),
    tags,
    note: 'exit from the hall',
    layers: [
      [0, 110, '-3'],
      [110, 160, '-2'],
      [160, TO_END, '-1'],
    ],
    first: out,
    last: signals,
  });
  layRamp(city, {
    line: spline(
      [toXY(signals), [-3230, -470], [-3360, -490], [-3540, -560], [-3700, -690], [-3760, -760]],
      8,
    ),
    tags,
    note: 'west exit',
    layers: [[0, 246, '-1']],
    bored: [0, 246],
    first: signals,
  });
  restrict(city, before.ways.at(-1)!, signals, south, { restriction: 'no_left_turn', except: 'psv' });
}

/** From the south over both bores, round, and into the westbound bore. */
function laySouthEntry(city: City, main: Dual): void {
  const merge = main.back.node(850);
  const [x, y] = toXY(merge);
  const up: XY[] = [
    [-2540, -1040],
    [-2548, -880],
    [-2560, -700],
    [-2578, -450],
    [-2590, -200],
    [-2605, 0],
  ];
  const round: XY[] = [
    [-2660, 120],
    [-2770, 185],
    [-2920, 195],
    [-3080, 150],
    [-3220, 55],
    [x + 100, y + 34],
  ];
  const line = spline([...up, ...round, [x, y]], 8);
  const total = lengthM(line);
  layRamp(city, {
    line,
    tags: { highway: 'primary_link', lanes: '1', maxspeed: '50', destination: 'Undermoor' },
    note: 'south entry',
    layers: [
      [345, total - 150, '-1'],
      [total - 150, TO_END, '-2'],
    ],
    bored: [345, TO_END],
    last: merge,
  });
}

function restrict(city: City, from: Way, via: Point, to: Way, tags: Record<string, string>): void {
  const members = [
    { of: from, role: 'from' },
    { of: via, role: 'via' },
    { of: to, role: 'to' },
  ];
  city.relate(KELL_GROUP, members, { type: 'restriction', ...tags });
}
