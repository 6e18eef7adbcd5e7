import type { City } from '../city/city.ts';
import { polar, type XY } from '../line/xy.ts';
import { layStreet } from '../streets/lay-street.ts';

const GROUP = 9;
const ROUNDS: XY = [-1420, -230];

/** Ways through houses of the old town: they carry a tunnel tag and are no tunnels. */
export function layPassages(city: City): void {
  passage(city, 222, 'Coopers Arch', 'building_passage');
  passage(city, 26, 'Needle Arch', 'passage');
}

function passage(city: City, angleDeg: number, name: string, tunnel: string): void {
  const at = (r: number, deg = 0) => polar(ROUNDS, r, angleDeg + deg);
  layStreet(city, {
    group: GROUP,
    through: [at(440), at(510), at(575)],
    tags: { highway: 'living_street', name },
    places: [{ near: at(512), lengthM: 24, tags: { tunnel }, note: `tunnel=${tunnel}` }],
  });
  city.drawArea(GROUP, [at(500, -3), at(500, 3), at(524, 3), at(524, -3)], { building: 'yes' });
}
