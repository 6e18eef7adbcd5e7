import type { BoreFeature, Route } from '../../shared/network/network.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { DecisionList } from './decision-list.tsx';
import { nameOfLink } from './list-beacon-rows.ts';
import { listDecisionsInOrder } from './list-decisions-in-order.ts';

/** The ways through a tunnel and what stands along its bores. */
export function TunnelDetails({ open }: { readonly open: OpenDesign }) {
  const { routes, features } = open.network.complex;
  return (
    <>
      <DecisionList open={open} />
      {routes.length > 0 && (
        <details>
          <summary>{words.tunnel.routes(routes.length)}</summary>
          <ol>
            {routes.map((route) => (
              <li key={route.id}>{describeRoute(route, open)}</li>
            ))}
          </ol>
        </details>
      )}
      {features.length > 0 && (
        <details>
          <summary>{words.tunnel.features(features.length)}</summary>
          <ul>
            {features.map((feature) => (
              <li key={`${feature.kind} ${feature.osm.type} ${feature.osm.id}`}>
                {describeFeature(feature, open)}
              </li>
            ))}
          </ul>
        </details>
      )}
      <details>
        <summary>{words.tunnel.cautions.title}</summary>
        <ul>
          {words.tunnel.cautions.lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </details>
    </>
  );
}

/** `Kell Parkway (A31) → Southgate Ramp: 1,712 m, 92 s, past decision points 1, 3`. */
function describeRoute(route: Route, open: OpenDesign): string {
  const name = (linkId: string | undefined) => {
    const link = open.network.links.find((one) => one.id === linkId);
    return link === undefined ? '' : nameOfLink(link);
  };
  const [from, to] = [name(route.steps[0]?.linkId), name(route.steps.at(-1)?.linkId)];
  const order = listDecisionsInOrder(open.network.complex).map(({ osmNode }) => osmNode);
  const numbers = route.decisionNodes.map((node) => order.indexOf(node) + 1);
  const openM = route.steps.reduce((sum, { opening }) => sum + (opening?.lengthM ?? 0), 0);
  const figures = [
    `${formatNumber(route.lengthM)} m`,
    `${formatNumber(route.durationS)} s`,
    ...(openM === 0 ? [] : [words.tunnel.routeOpen(formatNumber(openM))]),
    ...(numbers.length === 0 ? [] : [words.tunnel.decisionList.onRoute(numbers)]),
  ];
  return `${from === to ? from : `${from} → ${to}`}: ${figures.join(', ')}`;
}

function describeFeature(feature: BoreFeature, open: OpenDesign): string {
  const link = open.network.links.find((one) => one.id === feature.linkId);
  const where =
    Math.abs(feature.offsetM) < 1 ? [] : [words.rules.sides[feature.offsetM > 0 ? 'right' : 'left']];
  const parts = [
    formatChainage(feature.chainageM),
    ...where,
    ...(feature.where === 'near' ? [words.tunnel.nearBore] : []),
    ...(open.network.links.length > 1 && link !== undefined ? [nameOfLink(link)] : []),
  ];
  return `${feature.kind}${feature.label === undefined ? '' : ` ${feature.label}`}: ${parts.join(', ')}`;
}
