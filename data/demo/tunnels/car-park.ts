import { type City, type Point, toPoint, toXY } from '../city/city.ts';
import { layRoad } from '../city/lay-road.ts';
import { setOut } from '../line/curves.ts';
import type { XY } from '../line/xy.ts';

const GROUP = 10;
const BELOW = { tunnel: 'yes', layer: '-1', access: 'private' };

/** The garage below Meridian Square: a driveway down and a ring of parking aisles. */
export function layCarPark(city: City): void {
  const drive = { highway: 'service', service: 'driveway', maxspeed: '10' };
  const hub: Point = toPoint([640, -455]);
  layRoad(city, setOut([[588, -606], [606, -560, 30], [630, -500, 30], toXY(hub)], 8), {
    group: GROUP,
    tags: drive,
    stretches: [{ from: 45, to: 1e9, tags: BELOW, note: 'driveway of a garage, access=private' }].map(
      (s) => ({ ...s, to: 164 }),
    ),
    last: hub,
  });
  const aisle = { highway: 'service', service: 'parking_aisle', ...BELOW, oneway: 'yes' };
  const ring: XY[] = [toXY(hub), [725, -470], [745, -385], [660, -368], toXY(hub)];
  const line = setOut(
    ring.map(([x, y]) => [x, y, 12]),
    8,
  );
  city.draw(GROUP, [hub, ...line.slice(1, -1).map(toPoint), hub], aisle, { note: 'parking aisle' });
  city.drawArea(
    GROUP,
    [
      [625, -480],
      [755, -480],
      [755, -350],
      [625, -350],
    ],
    {
      highway: 'service',
      area: 'yes',
      tunnel: 'yes',
      layer: '-1',
      access: 'private',
      name: 'Meridian Garage',
    },
  );
}
