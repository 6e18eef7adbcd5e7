import type { Complex, Decision, Link, Portal, TunnelNetwork } from '../../shared/network/network.ts';
import type { Finding } from '../../shared/outcome/finding.ts';
import type { ComplexCase, PlaceCase } from './place-case.ts';

type Expected = PlaceCase['expect'];

/** Says what the program found in a place in the words of `case.json`, so that the two can be compared. */
export function describeNetwork(network: TunnelNetwork, findings: readonly Finding[]): Required<Expected> {
  return {
    complexes: network.complexes.map(describeComplex),
    links: network.links.map(describeLink),
    findings: describeFindings(findings),
  };
}

/** A complex without what a case leaves out: diverges and merges at some nodes, routes that begin or end there. */
export function withoutNodes(complex: ComplexCase, nodes: readonly number[]): ComplexCase {
  const isKept = ({ node }: { readonly node: number }) => !nodes.includes(node);
  return {
    ...complex,
    diverges: complex.diverges?.filter(isKept),
    merges: complex.merges?.filter(isKept),
    routes: complex.routes?.filter(({ entry, exit }) => !nodes.includes(entry) && !nodes.includes(exit)),
  };
}

function describeComplex(complex: Complex): Omit<ComplexCase, 'leftOut'> {
  const { id, kind, restricted, lengthM, longestRouteM, outageS } = complex;
  const nodesOf = (test: (portal: Portal) => boolean) =>
    complex.portals.filter(test).map((portal) => portal.osmNode);
  return {
    id,
    kind,
    restricted,
    bores: complex.boreCount,
    lengthM,
    longestRouteM,
    outageS,
    portals: {
      in: nodesOf((portal) => portal.direction === 'in'),
      out: nodesOf((portal) => portal.direction === 'out'),
      both: nodesOf((portal) => portal.direction === 'both'),
      deadEnd: nodesOf((portal) => portal.deadEnd),
      edge: nodesOf((portal) => portal.edgeOfExtract),
    },
    diverges: complex.diverges.map((decision) => ({
      node: decision.osmNode,
      inside: decision.inside,
      fromFixM: decision.distanceFromFixM,
      exits: exitsOf(decision),
    })),
    merges: complex.merges.map(({ osmNode, inside }) => ({ node: osmNode, inside })),
    afterPortal: complex.decisionsAfterPortal.map((decision) => ({
      node: decision.osmNode,
      fromPortalM: decision.distanceFromPortalM ?? Number.NaN,
      fromFixM: decision.distanceFromFixM,
      exits: exitsOf(decision),
    })),
    openings: complex.openings.map((opening) => ({
      from: opening.fromNode,
      to: opening.toNode,
      lengthM: opening.lengthM,
      durationS: opening.durationS,
    })),
    routes: complex.routes.map((route) => ({
      entry: route.entryNode,
      exit: route.exitNode,
      lengthM: route.lengthM,
      durationS: route.durationS,
      via: [...route.decisionNodes],
    })),
    grouping: complex.grouping
      .filter(({ reason }) => reason !== 'shared-nodes')
      .map(({ reason, detail }) => ({ reason, detail })),
    features: complex.features.map((feature) => ({
      kind: feature.kind,
      osm: `${feature.osm.type}/${feature.osm.id}`,
      link: feature.linkId,
      chainageM: feature.chainageM,
      offsetM: feature.offsetM,
      where: feature.where,
      label: feature.label ?? null,
    })),
  };
}

function exitsOf({ branches }: Decision) {
  return branches
    .filter((branch) => branch.exit)
    .map(({ wayId, label }) => ({ way: wayId, label: label ?? null }))
    .sort((a, b) => a.way - b.way);
}

function describeLink(link: Link): NonNullable<Expected['links']>[number] {
  const { id, direction, restricted, lengthM, lanes, layer } = link;
  return {
    id,
    direction,
    restricted,
    lengthM,
    speedKmh: link.speedMps * 3.6,
    lanes,
    layer,
    stretches: link.stretches.map((stretch) => ({
      way: stretch.wayId,
      lengthM: stretch.toM - stretch.fromM,
      speedKmh: stretch.speedMps * 3.6,
      lanes: stretch.lanes,
      centreLanes: stretch.centreLanes ?? 0,
    })),
  };
}

function describeFindings(findings: readonly Finding[]): Expected['findings'] {
  const byCode: Record<string, string[]> = {};
  for (const { code, subject } of findings) {
    byCode[code] = [...(byCode[code] ?? []), `${subject.kind}/${subject.id}`].sort();
  }
  return byCode;
}
