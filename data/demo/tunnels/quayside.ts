import { type City, toXY } from '../city/city.ts';
import { layDual } from '../city/lay-dual.ts';
import { layRoad } from '../city/lay-road.ts';
import { setOut, sweep } from '../line/curves.ts';
import { layRoundabout, type Roundabout } from '../streets/lay-roundabout.ts';

const GROUP = 11;

/** The dual carriageway along the inner basin with an exit below ground; returns its two end roundabouts. */
export function layQuayside(city: City): { dock: Roundabout; basin: Roundabout } {
  const circus = { highway: 'primary', ref: 'A22' };
  const dock = layRoundabout(
    city,
    GROUP,
    [1500, -1880],
    30,
    { ...circus, name: 'Dock Circus' },
    { joins: true },
  );
  const basin = layRoundabout(
    city,
    GROUP,
    [-150, -985],
    28,
    { ...circus, name: 'Basin Circus' },
    { joins: true },
  );
  const middle = setOut([
    [1473, -1866],
    [960, -1590, 450],
    [330, -1480, 500],
    [40, -1210, 300],
    [-131, -1006],
  ]);
  const bored = { tunnel: 'yes', layer: '-1', 'tunnel:name': 'Quayside Tunnel', maxspeed: '50' };
  const dual = layDual(city, middle, {
    group: GROUP,
    tags: { highway: 'primary', ref: 'A22', name: 'Quayside Way', oneway: 'yes', lanes: '2', maxspeed: '60' },
    halfGapM: 8,
    ends: {
      forthFirst: dock.node(144),
      backLast: dock.node(172),
      forthLast: basin.node(-36),
      backFirst: basin.node(-66),
    },
    forthOnly: [{ from: 380, to: 1290, tags: bored, note: 'Quayside Tunnel westbound' }],
    backOnly: [{ from: 395, to: 1280, tags: bored, note: 'Quayside Tunnel eastbound' }],
  });
  const diverge = dual.forth.node(760);
  diverge.tags = { highway: 'motorway_junction', ref: '1', name: 'Market Quay' };
  const line = sweep(toXY(diverge), dual.forth.heading(760), [455, -1235], [-0.18, 0.98], 8);
  layRoad(city, line, {
    group: GROUP,
    tags: { highway: 'primary_link', oneway: 'yes', lanes: '1', maxspeed: '40', destination: 'Market Quay' },
    stretches: [
      { from: 0, to: 235, tags: { tunnel: 'yes', layer: '-1' }, note: 'Quayside Tunnel, exit below ground' },
    ],
    first: diverge,
  });
  return { dock, basin };
}
