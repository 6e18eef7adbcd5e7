import type { LineAddress } from '../alignment/line-address.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';
import { CHECK_RULES, type Check, type Design, type Mend } from '../placement/design.ts';
import type { KeepOut } from '../placement/keep-out.ts';
import type { Rules } from '../placement/rules.ts';
import { BEACON_PROFILES, eirpDbm } from '../radio/profiles.ts';
import type { BoreGraph } from './bore-graph.ts';
import { checkPowerLimit } from './check-power-limit.ts';
import { listAudiblePairs } from './list-audible-pairs.ts';
import type { Stop } from './list-stops.ts';
import { type Ask, type Measured, makeChecker } from './make-check.ts';
import { listThinnest } from './measure-coverage.ts';
import { listAmbiguities, listConfirmations } from './measure-forks.ts';
import { type Gap, listGaps, listGapsOfOne, listGapsOfTwo } from './measure-gaps.ts';
import { listKeptOutDepths } from './measure-keep-outs.ts';
import { listLineErrors } from './measure-line.ts';
import { listPortalDistances } from './measure-portals.ts';
import { listSightCounts } from './measure-sight.ts';

/** A beacon that stands this near to the end of a keep-out stands at it, metres. */
const AT_EDGE_M = 0.05;

/** What is checked: a network with the beacons and coverage that were laid for it, and how drivers meet them. */
export type Checked = {
  readonly network: ComplexNetwork;
  readonly rules: Rules;
  readonly beacons: readonly Beacon[];
  readonly coverage: Design['coverage'];
  readonly keepOuts: readonly KeepOut[];
  readonly graph: BoreGraph;
  readonly stops: readonly Stop[];
};

/**
 * Holds a design against every rule, in the order of CHECK_RULES. Distances are driven ones, along legal ways and
 * across the nodes where bores join; restricted bores are left out.
 */
export function checkDesign(checked: Checked): readonly Check[] {
  const check = makeChecker(checked.network.links);
  const { region, beaconProfile } = checked.rules;
  const checks = [
    ...checkGaps(checked, check),
    ...checkHearing(checked, check),
    ...checkForks(checked, check),
    ...checkPlaces(checked, check),
    checkPowerLimit(region, eirpDbm(BEACON_PROFILES[beaconProfile])),
  ];
  return checks.sort((a, b) => CHECK_RULES.indexOf(a.rule) - CHECK_RULES.indexOf(b.rule));
}

type Checker = (ask: Ask, measured: readonly Measured[]) => Check;

function checkGaps({ rules, beacons, keepOuts, stops }: Checked, check: Checker): readonly Check[] {
  const locked = new Set(beacons.filter((beacon) => beacon.locked).map(({ id }) => id));
  const gaps = listGaps(stops);
  const hasLocked = gaps.some((gap) => gap.lengthM > rules.spacingM && isBeside(gap, locked));
  const closeUp = ({ at }: Measured): Mend => {
    if (isBesideKeepOut(keepOuts, at)) return 'shorten-keep-out';
    return hasLocked ? 'release-beacon' : 'reduce-spacing';
  };
  return [
    check({ rule: 'gap', unit: 'm', atMost: rules.spacingM, mend: closeUp }, gaps.map(toMeasured)),
    check(
      {
        rule: 'single-failure',
        unit: 'm',
        atMost: rules.redundancy * rules.spacingM,
        // Below 2 no failure is allowed for: even the tightest spacing leaves two of its intervals.
        mend: (worst) => (rules.redundancy < 2 ? 'raise-redundancy' : closeUp(worst)),
      },
      listGapsOfOne(stops).map(toMeasured),
    ),
    check({ rule: 'pair-failure', unit: 'm', mend: closeUp }, listGapsOfTwo(stops).map(toMeasured)),
  ];
}

function checkForks({ network, rules, coverage, graph, stops }: Checked, check: Checker): readonly Check[] {
  const { diverges, decisionsAfterPortal } = network.complex;
  const decisions = { underground: diverges, afterPortal: decisionsAfterPortal };
  return [
    check(
      {
        rule: 'decision-sight',
        unit: 'beacons',
        atLeast: rules.decisionBeacons,
        mend: () => 'beacon-before-fork',
      },
      listSightCounts(graph, decisions, rules),
    ),
    check(
      {
        rule: 'branch-confirmation',
        unit: 'm',
        atMost: rules.branchConfirmationM,
        mend: () => 'beacon-after-fork',
      },
      listConfirmations(graph, diverges, stops),
    ),
    check(
      {
        rule: 'branch-ambiguity',
        unit: 'm',
        atMost: rules.forkOverlapM,
        mend: () => 'beacon-farther-from-fork',
      },
      listAmbiguities(graph, diverges, stops, coverage),
    ),
  ];
}

function checkHearing(checked: Checked, check: Checker): readonly Check[] {
  const { rules, coverage, graph } = checked;
  return [
    check(
      {
        rule: 'coverage',
        unit: 'beacons',
        atLeast: rules.coverageDepth,
        mend: (worst) => mendCoverage(checked, worst),
      },
      listThinnest(graph.bores, coverage, rules.coverageDepth),
    ),
    check(
      { rule: 'sister-pairs', unit: 'm', isNote: true, mend: () => 'beacon-farther-from-fork' },
      listAudiblePairs(graph, coverage).map(({ commonM, at, beaconIds }) => ({
        found: commonM,
        at,
        beaconId: beaconIds[0],
      })),
    ),
  ];
}

function checkPlaces(
  { network, rules, beacons, keepOuts, graph }: Checked,
  check: Checker,
): readonly Check[] {
  return [
    check(
      {
        rule: 'portal-beacon',
        unit: 'm',
        atMost: rules.portalOffsetM + rules.portalToleranceM,
        mend: () => 'beacon-at-portal',
      },
      listPortalDistances(graph),
    ),
    check(
      { rule: 'keep-out', unit: 'm', atMost: 0, mend: () => 'leave-keep-out' },
      listKeptOutDepths(network.links, beacons, keepOuts),
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

/** Whether the radius is too small for the spacing, a moved beacon is to blame, or neither. */
function mendCoverage({ rules, beacons, keepOuts, coverage }: Checked, { at }: Measured): Mend {
  if (isBesideKeepOut(keepOuts, at)) return 'shorten-keep-out';
  const { coverageDepth, spacingM, portalOffsetM } = rules;
  const radiusM = coverage.reduce((most, one) => Math.max(most, one.radiusM), 0);
  // Between two portals a place hears what stands within the radius on both sides; at a portal, on one side only.
  const isShort =
    2 * radiusM < coverageDepth * spacingM || radiusM < portalOffsetM + (coverageDepth - 1) * spacingM;
  if (isShort) return 'reach-farther';
  // Moved from here, it stands at most one spacing beyond what it would have to reach.
  const farM = radiusM + spacingM;
  const isBesideLocked = beacons.some(
    (one) => one.locked && one.at.linkId === at.linkId && Math.abs(one.at.chainageM - at.chainageM) <= farM,
  );
  return isBesideLocked ? 'release-beacon' : 'reduce-spacing';
}

/** Whether a place lies in a keep-out or at one of its ends, where the layout puts the beacons beside it. */
function isBesideKeepOut(keepOuts: readonly KeepOut[], { linkId, chainageM }: LineAddress): boolean {
  return keepOuts.some(
    (one) => one.linkId === linkId && chainageM >= one.fromM - AT_EDGE_M && chainageM <= one.toM + AT_EDGE_M,
  );
}

function isBeside({ beaconIds }: Gap, locked: ReadonlySet<string>): boolean {
  return beaconIds.some((id) => locked.has(id));
}

function toMeasured({ lengthM, at, beaconIds }: Gap): Measured {
  const beaconId = beaconIds[0];
  return { found: lengthM, at, ...(beaconId === undefined ? {} : { beaconId }) };
}
