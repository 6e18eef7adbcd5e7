import type { ComplexNetwork } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';
import type { Check, Design, Mend } from '../placement/design.ts';
import type { Rules } from '../placement/rules.ts';
import type { Bore, BoreGraph } from './bore-graph.ts';
import type { Stop } from './list-stops.ts';
import { type Measured, makeChecker } from './make-check.ts';
import { listAmbiguities, listConfirmations, listSightCounts } from './measure-forks.ts';
import { type Gap, listGaps, listGapsOfOne, listGapsOfTwo } from './measure-gaps.ts';
import { listLineErrors } from './measure-line.ts';

/** A portal's beacon may stand this far inside (project default), metres. */
const PORTAL_TOLERANCE_M = 5;
/** Beacons that an approach to a decision point needs inside the decision sight distance (project default). */
const SIGHT_BEACONS = 2;
/** Right after a split the branches are one room; hearing the other's beacon there misleads nobody (project default). */
const SPLIT_M = 5;

/** What is checked: a network with the beacons and coverage that were laid for it, and how drivers meet them. */
export type Checked = {
  readonly network: ComplexNetwork;
  readonly rules: Rules;
  readonly beacons: readonly Beacon[];
  readonly coverage: Design['coverage'];
  readonly graph: BoreGraph;
  readonly stops: readonly Stop[];
};

/**
 * Holds a design against every rule, in the order of CHECK_RULES. Distances are driven ones, along legal ways and
 * across the nodes where bores join; restricted bores are left out.
 */
export function checkDesign({ network, rules, beacons, coverage, graph, stops }: Checked): readonly Check[] {
  const check = makeChecker(network.links);
  const decisions = network.complex.diverges;
  const locked = new Set(beacons.filter((beacon) => beacon.locked).map(({ id }) => id));
  const gaps = listGaps(stops);
  const hasLocked = gaps.some((gap) => gap.lengthM > rules.spacingM && isBeside(gap, locked));
  const closeUp = (): Mend => (hasLocked ? 'release-beacon' : 'reduce-spacing');
  return [
    check({ rule: 'gap', unit: 'm', atMost: rules.spacingM, mend: closeUp }, gaps.map(toMeasured)),
    check(
      {
        rule: 'single-failure',
        unit: 'm',
        atMost: rules.redundancy * rules.spacingM,
        // Below 2 no failure is allowed for: even the tightest spacing leaves two of its intervals.
        mend: () => (rules.redundancy < 2 ? 'raise-redundancy' : closeUp()),
      },
      listGapsOfOne(stops).map(toMeasured),
    ),
    check({ rule: 'pair-failure', unit: 'm', mend: closeUp }, listGapsOfTwo(stops).map(toMeasured)),
    check(
      { rule: 'portal-beacon', unit: 'm', atMost: PORTAL_TOLERANCE_M, mend: () => 'beacon-at-portal' },
      listPortalDistances(graph),
    ),
    check(
      { rule: 'decision-sight', unit: 'beacons', atLeast: SIGHT_BEACONS, mend: () => 'beacon-before-fork' },
      listSightCounts(graph, decisions),
    ),
    check(
      { rule: 'branch-confirmation', unit: 'm', atMost: rules.spacingM, mend: () => 'beacon-after-fork' },
      listConfirmations(graph, decisions, stops),
    ),
    check(
      { rule: 'branch-ambiguity', unit: 'm', atMost: SPLIT_M, mend: () => 'beacon-farther-from-fork' },
      listAmbiguities(graph, decisions, stops, coverage),
    ),
    check(
      {
        rule: 'line-accuracy',
        unit: 'm',
        atMost: rules.laneWidthM / 2,
        isNote: true,
        mend: () => 'survey-on-site',
      },
      listLineErrors(network.links.filter((link) => !link.restricted)),
    ),
  ];
}

function isBeside({ beaconIds }: Gap, locked: ReadonlySet<string>): boolean {
  return beaconIds.some((id) => locked.has(id));
}

function toMeasured({ lengthM, at, beaconIds }: Gap): Measured {
  const beaconId = beaconIds[0];
  return { found: lengthM, at, ...(beaconId === undefined ? {} : { beaconId }) };
}

/** For each bore's end in the open air: metres from the portal to the first beacon, or to the bore's other end. */
function listPortalDistances({ bores, open, atNode }: BoreGraph): readonly Measured[] {
  return bores.flatMap((bore) => {
    const ends = [
      { node: bore.fromNode, chainageM: 0, firstM: bore.places[0]?.chainageM },
      { node: bore.toNode, chainageM: bore.lengthM, firstM: fromEnd(bore) },
    ];
    return ends
      .filter(({ node }) => open.has(node))
      .map(({ node, chainageM, firstM }) => ({
        found: atNode.has(node) ? 0 : (firstM ?? bore.lengthM),
        at: { linkId: bore.id, chainageM },
      }));
  });
}

function fromEnd({ lengthM, places }: Bore): number | undefined {
  const last = places.at(-1);
  return last === undefined ? undefined : lengthM - last.chainageM;
}
