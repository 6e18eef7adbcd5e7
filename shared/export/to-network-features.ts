import type { Feature, LineString, MultiLineString, Point } from 'geojson';
import type { Complex, ComplexNetwork, Decision, Link } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import type { ExistingMatch } from '../ranking/existing.ts';
import { findEquipment } from '../ranking/find-status.ts';
import { makeFeature, roundTo, toKmh, toPosition } from './make-collection.ts';

/**
 * The `complexes` feature of one tunnel: its links as one MultiLineString and its figures; `existing`: the beacons that
 * are there already.
 */
export function toComplexFeature(
  network: ComplexNetwork,
  design: Design,
  existing: readonly ExistingMatch[] = [],
): Feature<MultiLineString> {
  const { complex, links } = network;
  const coordinates = links.map((link) => link.line.map(toPosition));
  return makeFeature(
    complex.id,
    { type: 'MultiLineString', coordinates },
    {
      name: complex.name,
      ref: complex.ref,
      kind: complex.kind,
      restricted: complex.restricted,
      boreCount: complex.boreCount,
      lengthM: roundTo(complex.lengthM, 3),
      longestRouteM: roundTo(complex.longestRouteM, 3),
      portalCount: complex.portals.length,
      divergeCount: complex.diverges.filter((diverge) => diverge.inside).length,
      mergeCount: complex.merges.filter((merge) => merge.inside).length,
      decisionCount: listDecisions(complex).length,
      exitCount: countExits(complex),
      maxspeedKmh: toKmh(Math.max(...links.map((link) => link.speedMps))),
      roadClass: longestLink(links).roadClass,
      outageS: roundTo(complex.outageS, 1),
      beaconCount: design.beacons.length,
      ...findEquipment(network, design.rules, design.beacons.length, existing),
      assumed: [...new Set(links.flatMap((link) => link.assumed))].sort(),
      grouping: complex.grouping.map(({ reason, detail }) => ({ reason, detail })),
      osmWays: complex.osmWays,
    },
  );
}

/** Branches that leave the main carriageway where at least one way to go stays underground. */
export function countExits(complex: Complex): number {
  return complex.diverges
    .filter((diverge) => diverge.branches.some((branch) => branch.linkId !== undefined))
    .reduce((sum, diverge) => sum + diverge.branches.filter((branch) => branch.exit).length, 0);
}

/** Every decision of a complex once: underground first, then those after a portal. */
export function listDecisions(complex: Complex): readonly Decision[] {
  const underground = new Set(complex.diverges.map((diverge) => diverge.osmNode));
  return [
    ...complex.diverges,
    ...complex.decisionsAfterPortal.filter((decision) => !underground.has(decision.osmNode)),
  ];
}

function longestLink(links: readonly Link[]): Link {
  return links.reduce((longest, link) => (link.lengthM > longest.lengthM ? link : longest));
}

/** The `bores` features: one LineString a link, in the direction of travel where it is one-way. */
export function toBoreFeatures({ complex, links }: ComplexNetwork): Feature<LineString>[] {
  return links.map((link) =>
    makeFeature(
      link.id,
      { type: 'LineString', coordinates: link.line.map(toPosition) },
      {
        complex: complex.id,
        link: link.id,
        kind: link.kind,
        restricted: link.restricted,
        fromNode: link.fromNode,
        toNode: link.toNode,
        lengthM: roundTo(link.lengthM, 3),
        oneway: link.direction === 'forward',
        reversible: link.direction === 'reversible' ? true : undefined,
        lanes: link.lanes,
        maxspeedKmh: toKmh(link.speedMps),
        roadClass: link.roadClass,
        layer: link.layer,
        assumed: link.assumed,
        osmWays: [...new Set(link.stretches.map((stretch) => stretch.wayId))].sort((a, b) => a - b),
      },
    ),
  );
}

/** The `portals` features. A node where two complexes of different kind meet is a portal of each. */
export function toPortalFeatures({ complex }: ComplexNetwork): Feature<Point>[] {
  return complex.portals.map((portal) =>
    makeFeature(
      `${complex.id}/n${portal.osmNode}`,
      { type: 'Point', coordinates: toPosition(portal.at) },
      {
        complex: complex.id,
        osmNode: portal.osmNode,
        kind: complex.kind,
        restricted: complex.restricted,
        direction: portal.direction,
        edgeOfExtract: portal.edgeOfExtract,
        deadEnd: portal.deadEnd ? true : undefined,
      },
    ),
  );
}

/** The `features` layer: emergency exits, phones, lay-bys and the like, with link and chainage. */
export function toBoreFeatureFeatures({ complex }: ComplexNetwork): Feature<Point>[] {
  return complex.features.map((feature) =>
    makeFeature(
      `${complex.id}/${feature.kind.replaceAll(' ', '-')}/${feature.osm.type[0]}${feature.osm.id}`,
      { type: 'Point', coordinates: toPosition(feature.at) },
      {
        complex: complex.id,
        feature: feature.kind,
        osmType: feature.osm.type,
        osmId: feature.osm.id,
        link: feature.linkId,
        chainageM: roundTo(feature.chainageM, 3),
        offsetM: roundTo(feature.offsetM, 3),
        where: feature.where,
        label: feature.label,
      },
    ),
  );
}

/** The `decisions` features, underground and after a portal. */
export function toDecisionFeatures({ complex }: ComplexNetwork): Feature<Point>[] {
  return listDecisions(complex).map((decision) =>
    makeFeature(
      `${complex.id}/n${decision.osmNode}`,
      { type: 'Point', coordinates: toPosition(decision.at) },
      {
        complex: complex.id,
        osmNode: decision.osmNode,
        kind: complex.kind,
        restricted: complex.restricted,
        where: decision.where,
        branches: decision.branches.map(({ label, exit, bearingDeg, linkId, reason }) => ({
          ...(label === undefined ? {} : { label }),
          exit,
          reason,
          bearingDeg,
          underground: linkId !== undefined,
        })),
        distanceFromFixM: roundTo(decision.distanceFromFixM, 1),
        distanceFromPortalM:
          decision.distanceFromPortalM === undefined ? undefined : roundTo(decision.distanceFromPortalM, 1),
        maxspeedKmh: toKmh(decision.speedMps),
      },
    ),
  );
}
