import { type City, toPoint } from '../city/city.ts';
import { addObstacles } from '../city/find-bridges.ts';
import { layRoad, type Road } from '../city/lay-road.ts';
import { setOut } from '../line/curves.ts';
import { chainagesM } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';

const GROUP = 101;

/** From the port round the New Town to Central, then through Fold Hill to the north coast. */
const LINE = setOut([
  [2270, -4330],
  [2230, -3600, 500],
  [2080, -2850, 600],
  [2020, -2000, 500],
  [2620, -1150, 500],
  [2700, 900, 600],
  [2150, 1600, 450],
  [250, 1690, 500],
  [-560, 2450, 500],
  [-980, 3500, 500],
  [-1060, 4350, 400],
  [-1560, 4640],
]);

/** Lays the railway with its stations; roads that come later bridge it or go under it. */
export function layRailway(city: City): Road {
  const at = chainagesM(LINE);
  const tags = { railway: 'rail', gauge: '1435', usage: 'main', name: 'Aldermouth and Osterness Line' };
  const from = at[LINE.findIndex((p) => p[1] > 3370 && p[0] < 0)]!;
  const tunnel = { tunnel: 'yes', layer: '-3', 'tunnel:name': 'Fold Railway Tunnel' };
  const stretches = [{ from, to: from + 760, tags: tunnel, note: 'rail tunnel (no road)' }];
  const road = layRoad(city, LINE, { group: GROUP, tags, stretches, joins: false });
  addObstacles(city, LINE, at, 6, stretches);
  layYard(city, road);
  stations(city);
  return road;
}

/** Sidings beside the line at the docks. */
function layYard(city: City, road: Road): void {
  for (const [offsetM, from, to] of [
    [9, 40, 900],
    [15, 90, 840],
    [21, 140, 780],
  ] as const) {
    const beside = (s: number): XY => {
      const [x, y] = road.at(s);
      const [hx, hy] = road.heading(s);
      return [x + hy * offsetM, y - hx * offsetM];
    };
    const line: XY[] = [];
    for (let s = from + 60; s < to - 60; s += 50) line.push(beside(s));
    const points = [road.node(from), ...line.map(toPoint), road.node(to)];
    city.draw(GROUP, points, { railway: 'rail', service: 'yard' });
  }
}

function stations(city: City): void {
  const list: [string, XY][] = [
    ['Aldermouth Central', [1150, 1646]],
    ['Thornholt Road', [2668, -120]],
    ['Saltern Docks', [1965, -2550]],
    ['Osterness', [-1500, 4605]],
  ];
  for (const [name, at] of list) city.mark(at, { railway: 'station', public_transport: 'station', name });
}
