import { type City, toXY } from '../city/city.ts';
import { layRoad } from '../city/lay-road.ts';
import { spline } from '../line/curves.ts';
import type { XY } from '../line/xy.ts';
import { layRoundabout, type Roundabout } from '../streets/lay-roundabout.ts';

const GROUP = 14;

/** Two one-way bores far apart, each with its own name: only a type=tunnel relation says that they belong together. */
export function layColdDown(city: City): { west: Roundabout; east: Roundabout } {
  const circus = { highway: 'primary', ref: 'A31' };
  const west = layRoundabout(
    city,
    GROUP,
    [4600, -95],
    28,
    { ...circus, name: 'Lammas Circus' },
    { joins: true },
  );
  const east = layRoundabout(
    city,
    GROUP,
    [5720, -60],
    28,
    { ...circus, name: 'Gannet Circus', junction: 'circular' },
    { joins: true },
  );
  const bore = (
    name: string,
    through: XY[],
    note: string,
    first: ReturnType<Roundabout['node']>,
    last: typeof first,
  ) =>
    layRoad(city, spline([toXY(first), ...through, toXY(last)], 10), {
      group: GROUP,
      tags: { highway: 'primary', name: `${name} Road`, oneway: 'yes', lanes: '2', maxspeed: '60' },
      stretches: [
        { from: 180, to: 910, tags: { tunnel: 'yes', layer: '-1', 'tunnel:name': `${name} Bore` }, note },
      ],
      joins: false,
      first,
      last,
    });
  const lower = bore(
    'Lower Down',
    [
      [4760, -170],
      [4900, -225],
      [5160, -255],
      [5430, -220],
      [5590, -140],
    ],
    'Lower Down Bore (relation type=tunnel)',
    west.node(-40),
    east.node(220),
  );
  const upper = bore(
    'Upper Down',
    [
      [5590, 30],
      [5430, 75],
      [5160, 85],
      [4900, 50],
      [4740, -20],
    ],
    'Upper Down Bore (relation type=tunnel)',
    east.node(140),
    west.node(40),
  );
  const members = [lower, upper].map((road) => ({ of: road.way(500), role: '' }));
  city.relate(GROUP, members, { type: 'tunnel', name: 'Down Tunnels', 'tunnel:name': 'Down Tunnels' });
  return { west, east };
}
