import type { Drive, RouteDrive } from '../../shared/drive/drive.ts';
import type { ComplexNetwork, Route } from '../../shared/network/network.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatNumber } from '../ui/format.ts';
import { nameOfLink } from './list-beacon-rows.ts';

/** The route to begin with: the one with most decisions, the longest of those. At least one route is needed. */
export function findTelling({ routes, decisions }: Drive): RouteDrive {
  const count = ({ routeId }: RouteDrive) => decisions.filter((one) => one.routeId === routeId).length;
  return [...routes].sort((a, b) => count(b) - count(a) || b.lengthM - a.lengthM)[0] as RouteDrive;
}

/** The driven routes by name, `Kell Parkway (A31) → Southgate Ramp, to the north-east: 1,712 m, 2 decisions`; those alike are counted. */
export function nameRoutes(
  { routes, decisions }: Drive,
  network: ComplexNetwork,
): ReadonlyMap<string, string> {
  const byId = new Map(network.complex.routes.map((route) => [route.id, route]));
  const times = new Map<string, number>();
  return new Map(
    routes.map(({ routeId, lengthM }) => {
      const count = decisions.filter((one) => one.routeId === routeId).length;
      const route = byId.get(routeId);
      const way = route === undefined ? routeId : describeWay(route, network);
      const name = say.routeOption(way, formatNumber(lengthM), count);
      const time = (times.get(name) ?? 0) + 1;
      times.set(name, time);
      return [routeId, time === 1 ? name : say.again(name, time)];
    }),
  );
}

function describeWay({ steps, entryNode, exitNode }: Route, { complex, links }: ComplexNetwork): string {
  const names = [steps[0], steps.at(-1)].map((step) => {
    const link = links.find(({ id }) => id === step?.linkId);
    return link === undefined ? '' : nameOfLink(link);
  });
  const [from, to] = [entryNode, exitNode].map(
    (node) => complex.portals.find(({ osmNode }) => osmNode === node)?.at,
  );
  const name = [...new Set(names)].join(' → ');
  if (from === undefined || to === undefined) return name;
  const [east, north] = [(to[0] - from[0]) * Math.cos((from[1] * Math.PI) / 180), to[1] - from[1]];
  if (east === 0 && north === 0) return name;
  const eighth = Math.round((Math.atan2(east, north) / Math.PI) * 4 + 8) % 8;
  return say.heading(name, say.compass[eighth] as string);
}
