import type { City } from '../city/city.ts';
import type { Dual } from '../city/lay-dual.ts';
import type { Road } from '../city/lay-road.ts';
import type { XY } from '../line/xy.ts';

/** Phones, extinguishers, cross passages and lay-bys of a twin bore, in chainage of the middle line. */
export function layFeatures(city: City, dual: Dual, from: number, to: number, prefix: string): void {
  let count = 0;
  for (let s = from + 75; s < to; s += 150) {
    count += 1;
    for (const road of [dual.forth, dual.back]) {
      city.mark(beside(road, s, 5), { emergency: 'phone', ref: `${prefix}${count}` });
      city.mark(beside(road, s + 2, 5), { emergency: 'fire_extinguisher', location: 'indoor' });
    }
  }
}

/** Doors between the bores; every second one is tagged the other way that mappers use. */
export function layCrossPassages(city: City, dual: Dual, at: readonly number[]): void {
  at.forEach((s, i) => {
    for (const road of [dual.forth, dual.back]) {
      city.mark(beside(road, s, -5), i % 2 === 0 ? { entrance: 'emergency' } : { emergency: 'exit' });
    }
  });
}

/** Lay-bys: nodes of the carriageway. */
export function layBays(road: Road, at: readonly number[]): void {
  for (const s of at) road.node(s).tags = { highway: 'emergency_bay' };
}

/** A position `offsetM` to the right of the road. */
function beside(road: Road, s: number, offsetM: number): XY {
  const [x, y] = road.at(s);
  const [hx, hy] = road.heading(s);
  return [x + hy * offsetM, y - hx * offsetM];
}
