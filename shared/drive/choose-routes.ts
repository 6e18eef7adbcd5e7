import type { ComplexNetwork, Route } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import { listAhead, type Turns } from './make-turns.ts';

/**
 * Chooses the routes to drive: as few as meet every decision point by every link that leads to it, and every branch
 * that can be taken there; then the longest until there are `most`. More than `most` only where the decisions want them.
 * The longest first.
 */
export function chooseRoutes(network: ComplexNetwork, turns: Turns, most: number): readonly Route[] {
  const sorted = [...network.complex.routes].sort((a, b) => b.lengthM - a.lengthM || byText(a.id, b.id));
  const endNodes = new Map(network.links.map((link) => [link.id, link]));
  const met = new Map(
    sorted.map((route) => [route, listMet(network, turns, route, (id) => endNodes.get(id))]),
  );
  const open = new Set([...met.values()].flat());
  const chosen = new Set<Route>();
  while (open.size > 0) {
    let best: Route | undefined;
    let bestCount = 0;
    for (const route of sorted) {
      const count = (met.get(route) ?? []).filter((item) => open.has(item)).length;
      if (count > bestCount) [best, bestCount] = [route, count];
    }
    if (best === undefined) break;
    chosen.add(best);
    for (const item of met.get(best) ?? []) open.delete(item);
  }
  for (const route of sorted) if (chosen.size < most) chosen.add(route);
  return sorted.filter((route) => chosen.has(route));
}

/** What is met on a route: decisions with the link that leads there, and the branches that are taken. */
function listMet(
  network: ComplexNetwork,
  turns: Turns,
  route: Route,
  linkOf: (id: Route['steps'][number]['linkId']) => ComplexNetwork['links'][number] | undefined,
): readonly string[] {
  const { steps } = route;
  const items = new Set<string>();
  steps.forEach((step, i) => {
    const link = linkOf(step.linkId);
    const endNode = step.against ? link?.fromNode : link?.toNode;
    if (endNode === undefined || turns.findDecision(step, endNode) === undefined) return;
    items.add(`${endNode} by ${step.linkId}`);
    const next = steps[i + 1];
    if (next !== undefined && next.opening === undefined) items.add(`${endNode} to ${next.linkId}`);
  });
  const last = steps.at(-1);
  for (const { decision } of listAhead(network, route)) items.add(`${decision.osmNode} by ${last?.linkId}`);
  return [...items];
}
