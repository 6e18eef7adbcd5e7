import type { Complex, LinkId } from '../../network/network.ts';
import { byText } from '../../outcome/by-text.ts';
import { makeWalls } from '../choose-walls.ts';
import { type DrivenArcs, listBranches, listDrivenArcs } from '../driven-arcs.ts';
import type { LayoutInput } from '../lay-even.ts';
import { measureSplits } from '../measure-splits.ts';
import type { Rules } from '../rules.ts';
import { listSightInside } from '../sight-distance.ts';
import { digest } from './digest.ts';
import { listCandidates } from './list-candidates.ts';
import { listCoverageRows } from './list-coverage-rows.ts';
import { listFixed } from './list-fixed.ts';
import { listBranchRows, listDecisionRows, listGapRows, listPortalDecisionRows } from './list-rows.ts';
import { measureDepths } from './measure-depths.ts';
import type { Candidate, Question, Row } from './question.ts';
import { reduceRows } from './reduce-rows.ts';
import { toLayout } from './walk-layout.ts';

/** The rules that say which beacons are needed and where. */
const ASKED = [
  'spacingM',
  'portalOffsetM',
  'portalToleranceM',
  'closestM',
  'redundancy',
  'coverageDepth',
  'branchConfirmationM',
  'forkOverlapM',
  'decisionBeacons',
  'decisionTimeS',
  'side',
] as const;

/**
 * Asks for the fewest beacons of a whole complex that keep every rule: no gap above the spacing on any drive, enough
 * heard everywhere and before every fork, one on each branch, one at each portal, the pins where they are. Restricted
 * links are left out but for their pins. `alsoAt`: places that are to be among the candidates wherever they are free. The
 * same for the same input in any order.
 */
export function buildQuestion(input: LayoutInput, alsoAt: ReadonlyMap<LinkId, readonly number[]>): Question {
  const network = { ...input.network, links: [...input.network.links].sort(byId) };
  const { rules } = input;
  const radiusM: LayoutInput['radiusM'] = (link, chainageM) => input.radiusM(link, chainageM);
  const pins = [...input.pins].sort(byId);
  const keepOuts = [...input.keepOuts].sort(byId);
  const driven = listDrivenArcs(network);
  const { complex } = network;
  const branches = listBranches(driven, complex.diverges);
  const walls = makeWalls(driven.links, rules, measureSplits(driven.links, rules));
  const candidates = listCandidates({
    driven,
    allLinks: network.links,
    rules,
    pins,
    keepOuts,
    radiusM,
    walls,
    branches,
    alsoAt,
  });
  const { fixed, portals } = listFixed(driven, candidates, rules);
  const layout = toLayout(driven, candidates);
  const rows = [
    ...listGapRows(layout, rules),
    ...listCoverageRows(network.links, driven.links, candidates, rules.coverageDepth),
    ...listDecisionRows(layout, rules, complex.diverges),
    ...listPortalDecisionRows(layout, rules, complex.decisionsAfterPortal),
    ...listBranchRows(layout, rules, branches),
  ];
  const copies = rules.side === 'both' ? 2 : 1;
  const weightOf = (c: number) => (candidates[c]?.pin === undefined ? copies : 1);
  return {
    key: keyOf(driven, complex, candidates, rules),
    candidates,
    copies,
    fixed,
    portals,
    ...reduceRows(leaveOutShy(rows, candidates, fixed, weightOf), new Set(fixed), weightOf, copies),
    depths: measureDepths(driven.links, candidates),
  };
}

/** The rows without the candidates that are too near past a fork, but for those that a row cannot be kept without. */
function leaveOutShy(
  rows: readonly Row[],
  candidates: readonly Candidate[],
  fixed: readonly number[],
  weightOf: (candidate: number) => number,
): readonly Row[] {
  const shy = new Uint8Array(candidates.length);
  candidates.forEach(({ isShy }, i) => {
    if (isShy) shy[i] = 1;
  });
  for (const candidate of fixed) shy[candidate] = 0;
  const withShy = new Set(rows.filter(({ of }) => of.some((c) => shy[c] === 1)));
  const lacking = [...withShy].filter(
    ({ of, need }) => of.reduce((sum, c) => sum + (shy[c] === 1 ? 0 : weightOf(c)), 0) < need,
  );
  for (const { of } of lacking) for (const candidate of of) shy[candidate] = 0;
  return rows.map((row) =>
    withShy.has(row) ? { ...row, of: row.of.filter((candidate) => shy[candidate] !== 1) } : row,
  );
}

/** Everything that the question follows from, places to the micrometre; keep-outs and the other methods' places show in the candidates. */
function keyOf(
  driven: DrivenArcs,
  { diverges, decisionsAfterPortal }: Complex,
  candidates: readonly Candidate[],
  rules: Rules,
): string {
  const links = driven.links.map(({ id, direction, fromNode, toNode, lengthM }) => [
    id,
    direction,
    fromNode,
    toNode,
    lengthM,
  ]);
  const places = candidates.map(
    ({ linkId, chainageM, walls, radiusM, pin }) =>
      `${linkId} ${Math.round(chainageM * 1e6)} ${walls.join()} ${radiusM} ${pin?.id ?? ''}`,
  );
  const forks = [...diverges, ...decisionsAfterPortal].map((decision) => [
    decision.osmNode,
    decision.speedMps,
    decision.inside,
    listSightInside(decision, rules),
  ]);
  const asked = ASKED.map((rule) => rules[rule]);
  return digest(JSON.stringify([asked, links, driven.next, [...driven.open].sort(), forks, places]));
}

function byId(a: { readonly id: string }, b: { readonly id: string }): number {
  return byText(a.id, b.id);
}
