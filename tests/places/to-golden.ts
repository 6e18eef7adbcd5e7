import type { Complex, Decision, Link, RouteStep, TunnelNetwork } from '../../shared/network/network.ts';
import type { Finding } from '../../shared/outcome/finding.ts';

type Lines = Readonly<Record<string, string>>;

/**
 * Writes a network as text that stays the same byte for byte until the network changes: one line for each link,
 * portal, decision, route, feature and finding, lengths to the millimetre, so that a difference can be read.
 */
export function toGolden({ links, complexes }: TunnelNetwork, findings: readonly Finding[]): string {
  const golden = {
    links: toLines(links, ({ id }) => id, lineOfLink),
    complexes: Object.fromEntries(complexes.map((complex) => [complex.id, sectionOf(complex)])),
    findings: toLines(
      findings,
      ({ id }) => id,
      ({ severity, params }) => joined(severity, ...Object.entries(params).map(([k, v]) => `${k}=${v}`)),
    ),
  };
  return `${JSON.stringify(golden, null, 2)}\n`;
}

function toLines<T>(items: readonly T[], keyOf: (item: T) => string, lineOf: (item: T) => string): Lines {
  const lines = Object.fromEntries(items.map((item) => [keyOf(item), lineOf(item)]));
  if (Object.keys(lines).length !== items.length) throw new Error('two items share one key in a golden');
  return lines;
}

function joined(...parts: readonly (string | false | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== false && part !== '').join(', ');
}

const metres = (value: number) => `${value.toFixed(3)} m`;
const seconds = (value: number) => `${value.toFixed(3)} s`;
const kmh = (speedMps: number) => `${(speedMps * 3.6).toFixed(2)} km/h`;

function lineOfLink(link: Link): string {
  const stretches = link.stretches.map((s) =>
    joined(
      `way ${s.wayId} to ${s.toM.toFixed(3)}`,
      s.roadClass,
      `${s.lanes} lanes`,
      kmh(s.speedMps),
      s.widthM !== undefined && `wide ${metres(s.widthM)}`,
      s.centreLanes !== undefined && `middle ${s.centreLanes} lanes to the right`,
      `layer ${s.layer}`,
      s.tunnelName ?? s.name,
      s.ref,
      s.assumed.length > 0 && `assumed ${s.assumed.join(' ')}`,
    ),
  );
  const head = joined(
    link.kind,
    link.direction,
    link.restricted && 'restricted',
    metres(link.lengthM),
    link.roadClass,
    `${link.lanes} lanes`,
    kmh(link.speedMps),
    `layer ${link.layer}`,
    `nodes ${link.nodes.join(' ')}`,
  );
  return [head, ...stretches].join('; ');
}

function sectionOf(complex: Complex) {
  const node = ({ osmNode }: { readonly osmNode: number }) => `n${osmNode}`;
  return {
    summary: joined(
      complex.kind,
      complex.restricted && 'restricted',
      complex.name,
      complex.ref,
      `${complex.boreCount} bores`,
      metres(complex.lengthM),
      `longest route ${metres(complex.longestRouteM)}`,
      `outage ${seconds(complex.outageS)}`,
      `ways ${complex.osmWays.join(' ')}`,
    ),
    portals: toLines(complex.portals, node, (portal) =>
      joined(portal.direction, portal.deadEnd && 'dead end', portal.edgeOfExtract && 'edge of extract'),
    ),
    diverges: toLines(complex.diverges, node, lineOfDecision),
    merges: toLines(complex.merges, node, ({ inside }) => (inside ? 'inside' : 'at the mouth')),
    afterPortal: toLines(complex.decisionsAfterPortal, node, lineOfDecision),
    openings: toLines(
      complex.openings,
      ({ fromNode, toNode }) => `n${fromNode}-n${toNode}`,
      ({ lengthM, durationS }) => joined(metres(lengthM), seconds(durationS)),
    ),
    routes: toLines(
      complex.routes,
      ({ id }) => id,
      (route) =>
        joined(
          metres(route.lengthM),
          seconds(route.durationS),
          route.decisionNodes.length > 0 && `via ${route.decisionNodes.map((n) => `n${n}`).join(' ')}`,
          `steps ${route.steps.map(describeStep).join(' ')}`,
        ),
    ),
    grouping: toLines(
      complex.grouping.map((grouping, index) => ({ ...grouping, index })),
      ({ reason, index }) => `${index} ${reason}`,
      ({ detail, linkIds }) => joined(detail, `links ${linkIds.join(' ')}`),
    ),
    features: toLines(
      complex.features,
      ({ osm }) => `${osm.type}/${osm.id}`,
      (feature) =>
        joined(
          feature.kind,
          feature.label,
          `link ${feature.linkId}`,
          `at ${metres(feature.chainageM)}`,
          `offset ${metres(feature.offsetM)}`,
          feature.where === 'near' && 'near',
        ),
    ),
  };
}

function lineOfDecision(decision: Decision): string {
  const branches = decision.branches.map((branch) =>
    joined(
      `${branch.exit ? 'exit' : 'main'} way ${branch.wayId}`,
      branch.linkId === undefined ? 'open air' : `link ${branch.linkId}`,
      `${branch.bearingDeg.toFixed(1)} degrees`,
      `by ${branch.reason}`,
      branch.label,
    ),
  );
  const head = joined(
    decision.where,
    decision.inside && 'inside',
    `${metres(decision.distanceFromFixM)} from fix`,
    decision.distanceFromPortalM !== undefined && `${metres(decision.distanceFromPortalM)} from portal`,
    kmh(decision.speedMps),
  );
  return [head, ...branches].join('; ');
}

function describeStep({ linkId, against, opening }: RouteStep): string {
  const through = opening === undefined ? '' : `(open ${metres(opening.lengthM)}) `;
  return `${through}${against ? '-' : '+'}${linkId}`;
}
