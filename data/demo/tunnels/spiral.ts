import type { City } from '../city/city.ts';
import { layRoad, type Road } from '../city/lay-road.ts';
import { spline } from '../line/curves.ts';
import { lengthM, resample } from '../line/polyline.ts';
import { polar, type XY } from '../line/xy.ts';

const GROUP = 4;
const CENTRE: XY = [-5790, 2010];
const TURN_DEG = 415;

/** The Corkscrew: climbs from Strand Road to Hallow Moor in one full turn inside the hill. */
export function laySpiral(city: City): Road {
  const turn: XY[] = [];
  for (let k = 0; k <= 80; k++) {
    const share = k / 80;
    turn.push(polar(CENTRE, 68 + 20 * share, -90 + TURN_DEG * share));
  }
  const start = turn[0]!;
  const before = spline([[-6232, 1900], [-6120, 1925], [start[0] - 160, start[1] - 1], start], 10);
  const exit = turn.at(-1)!;
  const after = spline(
    [exit, [exit[0] + 55, exit[1] + 82], [exit[0] + 190, exit[1] + 205], [-5390, 2320], [-5300, 2385]],
    10,
  );
  const line = resample([...before, ...turn.slice(1), ...after.slice(1)], 8);
  const from = lengthM(before) - 130;
  const to = lengthM(before) + lengthM(turn) + 90;
  const bored = { tunnel: 'yes', layer: '-2', 'tunnel:name': 'Corkscrew Tunnel' };
  return layRoad(city, line, {
    group: GROUP,
    tags: { highway: 'tertiary', name: 'Moor Road', maxspeed: '40', lanes: '2', incline: '6%' },
    stretches: [
      { from, to, tags: bored, note: 'spiral, one full turn' },
      { from: from + 360, to, tags: { layer: '-1' } },
    ],
  });
}
