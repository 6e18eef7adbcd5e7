import { type City, toPoint } from '../city/city.ts';
import { Region } from '../ground/region.ts';
import { keepShape } from '../line/polyline.ts';
import { makeRandom, type Random } from '../line/random.ts';
import type { XY } from '../line/xy.ts';
import { DISTRICTS, type District } from './district-list.ts';
import type { Pattern } from './patterns.ts';
import type { Site } from './site.ts';
import { StreetNames } from './street-names.ts';

/** Fills the districts with streets, one after the other. */
export function layDistricts(city: City, site: Site): void {
  const names = new StreetNames();
  for (const [i, district] of DISTRICTS.entries()) {
    layDistrict(city, site, names, district, makeRandom(7000 + i));
  }
}

function layDistrict(city: City, site: Site, names: StreetNames, district: District, random: Random): void {
  const region = new Region(district.ring);
  const inside = (p: XY) => region.holds(p);
  const order = { avenue: 0, street: 1, close: 2 };
  const patterns = [...district.pattern(random)].sort((a, b) => order[a.rank] - order[b.rank]);
  for (const pattern of patterns) {
    for (const part of site.partsOf(pattern.line, inside, pattern.rank === 'close' ? 40 : 70)) {
      drawStreet(city, district, pattern, names.next(district.theme, pattern.rank, random), part);
      site.addStreet(part);
    }
  }
  city.drawArea(901, district.ring, { landuse: district.landuse ?? 'residential' });
}

function drawStreet(city: City, district: District, pattern: Pattern, name: string, line: XY[]): void {
  const shape = keepShape(line, 1.2).map((i) => line[i]!);
  const highway = district.highway?.[pattern.rank] ?? 'residential';
  const tags: Record<string, string> = { highway, name };
  if (highway === 'tertiary') tags.maxspeed = '50';
  city.draw(district.group, shape.map(toPoint), tags, { joins: true, optional: true });
}
