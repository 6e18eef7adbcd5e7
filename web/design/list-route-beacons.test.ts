import { describe, expect, it } from 'vitest';
import { design, drawFork } from '../../shared/drive/drive.fixture.ts';
import { listRouteBeacons, withoutBeacons } from './list-route-beacons.ts';

const network = drawFork();
const own = design(network, [
  [11, 1, 1200, 300],
  [11, 2, 250],
  [12, 2, 100],
]);
const [main, ramp] = ['3', '4'].map(
  (exit) => network.complex.routes.find(({ exitNode }) => `${exitNode}` === exit)?.id ?? '',
) as [string, string];

describe('the beacons of a route', () => {
  it('are those along it, metres from its entry portal', () => {
    const at = (routeId: string) =>
      listRouteBeacons(network, own, routeId).map(({ id, atM }) => [id, Math.round(atM)]);
    expect(at(main)).toEqual([
      ['11.1.300', 300],
      ['11.1.1200', 1200],
      ['11.2.250', 1750],
    ]);
    expect(at(ramp).map(([id]) => id)).toEqual(['11.1.300', '11.1.1200', '12.2.100']);
    expect(at('no such route')).toEqual([]);
  });

  it('are gone where they are dead, and what they cover with them', () => {
    const { id } = own.beacons[0] as (typeof own.beacons)[number];
    const left = withoutBeacons(own, new Set([id]));
    expect(left.beacons).toHaveLength(own.beacons.length - 1);
    expect(left.coverage.map(({ beaconId }) => beaconId)).not.toContain(id);
    expect(left.rules).toBe(own.rules);
  });
});
