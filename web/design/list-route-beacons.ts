import { buildCourse } from '../../shared/drive/build-course.ts';
import type { Driveable } from '../../shared/drive/build-drive.ts';
import { keyOfText } from '../../shared/drive/chance.ts';
import { listSenders } from '../../shared/drive/list-senders.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { BeaconId } from '../../shared/placement/beacon.ts';

/** A beacon as a driver meets it, metres from the entry portal. */
export type RouteBeacon = { readonly id: BeaconId; readonly atM: number };

/** Lists the beacons that are met on a route, in their order; none where the complex has no such route. */
export function listRouteBeacons(
  network: ComplexNetwork,
  design: Pick<Driveable, 'beacons' | 'coverage'>,
  routeId: string,
): readonly RouteBeacon[] {
  const route = network.complex.routes.find(({ id }) => id === routeId);
  if (route === undefined) return [];
  const links = new Map(network.links.map((link) => [link.id, link]));
  const ids = new Map(design.beacons.map(({ id }) => [keyOfText(id), id]));
  const { passes } = buildCourse(route, links, listSenders(network, design));
  return passes.flatMap(({ atM, sender }) => {
    const id = ids.get(sender.key);
    return id === undefined ? [] : [{ id, atM }];
  });
}

/** The design as it is while these beacons are dead: neither heard nor in the way of others. */
export function withoutBeacons<D extends Driveable>(design: D, dead: ReadonlySet<BeaconId>): D {
  return {
    ...design,
    beacons: design.beacons.filter(({ id }) => !dead.has(id)),
    coverage: design.coverage.filter(({ beaconId }) => !dead.has(beaconId)),
  };
}
