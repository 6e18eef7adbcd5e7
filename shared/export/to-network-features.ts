import type { Feature, LineString, MultiLineString, Point } from 'geojson';
import type { Both, DecisionDrive, Failures } from '../drive/drive.ts';
import type { Complex, ComplexNetwork, Decision, Link } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import type { Rules } from '../placement/rules.ts';
import { sightDistanceM } from '../placement/sight-distance.ts';
import type { ExistingMatch } from '../ranking/existing.ts';
import { findEquipment } from '../ranking/find-status.ts';
import type { RankedTunnel } from '../ranking/rank.ts';
import { makeFeature, roundTo, toKmh, toPosition } from './make-collection.ts';

/** What is known of a tunnel besides the map and its design. */
export type Known = {
  /** The beacons that are there already. */
  readonly existing?: readonly ExistingMatch[];
  /** What drivers go through at its decision points. */
  readonly failures?: readonly DecisionDrive[];
  /** Absent for what is not ranked: covered roads, galleries, restricted access. */
  readonly ranked?: RankedTunnel;
};

/** The `complexes` feature of one tunnel: its links as one MultiLineString and its figures. */
export function toComplexFeature(
  network: ComplexNetwork,
  design: Design,
  { existing = [], ranked }: Known = {},
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
      ...toRankFigures(ranked),
      assumed: listAssumed(links, ranked),
      grouping: complex.grouping.map(({ reason, detail }) => ({ reason, detail })),
      osmWays: complex.osmWays,
    },
  );
}

function toRankFigures(ranked: RankedTunnel | undefined) {
  if (ranked === undefined) return {};
  const { misguided, vehiclesPerDay, cost, rank } = ranked;
  return {
    vehiclesPerDay: roundTo(vehiclesPerDay, 0),
    misguidedPerDay: roundTo(misguided.perDay.without, 2),
    misguidedPerDayWithDesign: roundTo(misguided.perDay.with, 2),
    cost: roundTo(cost, 2),
    rank,
  };
}

function listAssumed(links: readonly Link[], ranked: RankedTunnel | undefined): readonly string[] {
  const assumed: string[] = links.flatMap((link) => link.assumed);
  if (ranked?.isTrafficAssumed === true) assumed.push('traffic');
  return [...new Set(assumed)].sort();
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

/** The `decisions` features, underground and after a portal, with the share of drives that fail there where it is known. */
export function toDecisionFeatures(
  { complex }: ComplexNetwork,
  rules: Pick<Rules, 'decisionTimeS'>,
  failures: readonly DecisionDrive[] = [],
): Feature<Point>[] {
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
        sightDistanceM: roundTo(sightDistanceM(decision.speedMps, rules.decisionTimeS), 1),
        ...toShares(failures.filter(({ osmNode }) => osmNode === decision.osmNode)),
      },
    ),
  );
}

/**
 * Means over the ways that lead to the point. `misguidedShare`: of the drives that come by, those that are misguided there
 * and were not before; `failingShare`: all whose guidance fails there.
 */
function toShares(drives: readonly DecisionDrive[]) {
  if (drives.length === 0) return {};
  const mean = (of: (drive: DecisionDrive) => number) =>
    roundTo(drives.reduce((sum, drive) => sum + of(drive), 0) / drives.length, 4);
  const failing = (which: keyof Both<Failures>) =>
    mean(({ failures }) => failures[which].late + failures[which].early);
  return {
    misguidedShare: mean(({ misguidedShare }) => misguidedShare.without),
    misguidedShareWithDesign: mean(({ misguidedShare }) => misguidedShare.with),
    failingShare: failing('without'),
    failingShareWithDesign: failing('with'),
  };
}
