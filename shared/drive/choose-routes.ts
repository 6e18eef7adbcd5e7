import type { ComplexNetwork, Link, LinkId, Route } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import { listAhead, type Turns } from './make-turns.ts';

/** So many routes are driven where the whole drive is wanted, and more only where not all is met on them. */
const MOST_ROUTES = 20;

/**
 * Chooses the routes to drive, the longest first. For the `decisions` alone: as few as meet every decision point by every
 * link that leads to it, from every portal where one may have entered. For `all`: as few as meet those and every branch that can be taken there, then the longest until
 * there are 20; more only where that many are needed.
 */
export function chooseRoutes(
  network: ComplexNetwork,
  turns: Turns,
  want: 'decisions' | 'all',
): readonly Route[] {
  const sorted = [...network.complex.routes].sort((a, b) => b.lengthM - a.lengthM || byText(a.id, b.id));
  const links = new Map(network.links.map((link) => [link.id, link]));
  const met = sorted.map((route) => ({ route, items: listMet(network, links, turns, route, want) }));
  const open = new Set(met.flatMap(({ items }) => items));
  const chosen = new Set<Route>();
  while (open.size > 0) {
    const counts = met.map(({ items }) => items.filter((item) => open.has(item)).length);
    const best = met[counts.indexOf(Math.max(...counts))] as (typeof met)[number];
    chosen.add(best.route);
    for (const item of best.items) open.delete(item);
  }
  if (want === 'all') for (const route of sorted) if (chosen.size < MOST_ROUTES) chosen.add(route);
  return sorted.filter((route) => chosen.has(route));
}

/** What is met on a route: decisions with the link that leads there, and the branches that are taken. */
function listMet(
  network: ComplexNetwork,
  links: ReadonlyMap<LinkId, Link>,
  turns: Turns,
  route: Route,
  want: 'decisions' | 'all',
): readonly string[] {
  const { steps } = route;
  const items = new Set<string>();
  const from = want === 'decisions' ? ` from ${route.entryNode}` : '';
  steps.forEach((step, i) => {
    const link = links.get(step.linkId);
    const endNode = step.against ? link?.fromNode : link?.toNode;
    if (endNode === undefined || turns.findDecision(step, endNode) === undefined) return;
    items.add(`${endNode} by ${step.linkId}${from}`);
    const next = steps[i + 1];
    if (want === 'all' && next !== undefined && next.opening === undefined)
      items.add(`${endNode} to ${next.linkId}`);
  });
  const last = steps.at(-1);
  for (const { decision } of listAhead(network, route))
    items.add(`${decision.osmNode} by ${last?.linkId}${from}`);
  return [...items];
}
