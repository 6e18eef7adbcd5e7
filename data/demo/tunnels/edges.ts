import type { City } from '../city/city.ts';
import { layStreet } from '../streets/lay-street.ts';

const GROUP = 15;
const EDGE_EAST_M = 7600;

/** The undersea road to the next island: it leaves the extract, and so do its last nodes. */
export function laySkerrowLink(city: City): void {
  const road = layStreet(city, {
    group: GROUP,
    through: [
      [5880, 2880],
      [6000, 2850],
      [6150, 2860],
      [6700, 2960],
      [7300, 3160],
      [7690, 3330],
    ],
    tags: { highway: 'primary', ref: 'A99', name: 'Skerrow Fixed Link', lanes: '2', maxspeed: '80' },
    places: [
      {
        near: [7100, 3087],
        lengthM: 1990,
        tags: { tunnel: 'yes', layer: '-3', 'tunnel:name': 'Skerrow Tunnel' },
        note: 'runs out of the extract: its last nodes are missing',
      },
    ],
    bridges: false,
  });
  for (const way of road.ways) for (const p of way.points) if (p.x > EDGE_EAST_M) p.absent = true;
}

/** An adit of the old slate quarry that ends in the hill. */
export function layAdit(city: City): void {
  layStreet(city, {
    group: GROUP,
    through: [
      [-4050, 2290],
      [-4090, 2180],
      [-4170, 2080],
      [-4260, 1960],
    ],
    tags: { highway: 'unclassified', name: 'Quarry Lane' },
    places: [
      {
        near: [-4215, 2030],
        lengthM: 170,
        tags: { tunnel: 'yes', layer: '-1', 'tunnel:name': 'Slate Adit' },
        note: 'dead end inside the hill',
      },
    ],
  });
}
