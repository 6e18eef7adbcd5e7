import type { Road } from '../city/lay-road.ts';
import type { PlaceStretch } from '../streets/lay-street.ts';

/** Each way of the bore and what is odd about it: tags, ending chainage, note. */
const PARTS: readonly (readonly [to: number, tags: Record<string, string>, note: string])[] = [
  [70, { lanes: '2', maxspeed: '50' }, 'lanes and maxspeed as usual'],
  [130, { lanes: '' }, 'lanes missing'],
  [190, { maxspeed: '' }, 'maxspeed missing'],
  [240, { maxspeed: 'walk' }, 'maxspeed=walk'],
  [300, { maxspeed: 'none' }, 'maxspeed=none'],
  [350, { maxspeed: 'DE:urban' }, 'maxspeed with a country code'],
  [400, { maxspeed: 'as posted' }, 'maxspeed that cannot be read'],
  [450, { lanes: '2;3' }, 'lanes=2;3'],
  [510, { width: '7.5 m' }, 'width=7.5 m'],
  [570, { lanes: '', maxspeed: '' }, 'lanes and maxspeed missing'],
  [640, { maxspeed: '50' }, 'drawn against the others'],
];

/** The bore that tag changes cut into many ways. */
export function foldHillTunnel(): PlaceStretch {
  let from = 0;
  const parts = PARTS.map(([to, tags, note]) => {
    const stretch = { from, to, tags, note };
    from = to;
    return stretch;
  });
  return {
    near: [-1480, 3760],
    lengthM: 640,
    tags: { tunnel: 'yes', layer: '-2', 'tunnel:name': 'Fold Hill Tunnel' },
    note: 'Fold Hill Tunnel',
    parts,
  };
}

/** Turns the last way round, as mappers do: its nodes run from north to south. */
export function turnLastWay(road: Road): void {
  road.ways.find((w) => w.note?.includes('drawn against the others'))?.points.reverse();
}
