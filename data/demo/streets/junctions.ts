import type { City } from '../city/city.ts';
import type { Dual } from '../city/lay-dual.ts';
import type { Road } from '../city/lay-road.ts';
import type { XY } from '../line/xy.ts';
import { crossingOf, layDiamond } from './lay-diamond.ts';

const GROUP = 103;

/** Ring junctions: number, name, what the exits say, road, place. */
export function layJunctions(
  city: City,
  ring: Dual,
  roads: Readonly<Record<string, Road>>,
  holmsideExitAt: number,
): void {
  const list: [string, string, string, string, XY, boolean][] = [
    ['1', 'Thornholt', 'Thornholt;City', 'bridge', [3480, -170], true],
    ['2', 'Saltern', 'Saltern;Docks', 'saltern', [3215, -1990], true],
    ['3', 'Holmside', 'Holmside;The Rounds', 'holmside', [-1250, -3010], true],
    ['4', 'Corve', 'Corvesand;Southgate', 'southgate', [-4200, -1930], true],
    ['5', 'Kellwest', 'Undermoor;Kell Hill', 'undermoor', [-4690, -320], true],
    ['6', 'Hallowick', 'Hallowick;Alder', 'north', [-3320, 3960], false],
    ['7', 'Wrenlow', 'Wrenlow;Fairlead', 'ridge', [1110, 4100], false],
    ['8', 'Pellmere', 'Pellmere', 'tidal', [2860, 3860], false],
  ];
  for (const [ref, name, destination, road, near, motorway] of list) {
    const over = roads[road];
    if (over === undefined) throw new Error(`no road called ${road}`);
    layDiamond(city, {
      group: GROUP,
      dual: ring,
      over,
      ...crossingOf(ring, over, near),
      ref,
      name,
      destination,
      tags: { highway: motorway ? 'motorway_link' : 'trunk_link', lanes: '1', maxspeed: '60' },
      ...(ref === '3' ? { forthExitAt: holmsideExitAt } : {}),
    });
  }
}
