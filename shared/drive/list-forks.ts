import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import type { Rules } from '../placement/rules.ts';
import type { LinkStretch } from '../radio/cover-bores.ts';
import type { Course } from './build-course.ts';
import type { Sender } from './list-senders.ts';
import type { Miss, makeMisses } from './make-misses.ts';
import type { Sister, Turns } from './make-turns.ts';

/** A fork underground on a route: what tells a driver who takes this branch from one who takes a sister of it. */
export type Fork = {
  readonly osmNode: number;
  readonly linkId: LinkId;
  readonly atM: number;
  /** The beacons past the fork, as numbers of the course's passes in the order of the drive; do they tell? */
  readonly own: readonly { readonly pass: number; readonly tells: boolean }[];
  /** The sisters' beacons that are heard on this branch, and how far past the fork. */
  readonly strange: readonly { readonly sender: Sender; readonly reachM: number; readonly miss: Miss }[];
};

/** Distances that are rounding, metres. */
const SAME_M = 1e-3;

/**
 * Lists the forks underground on a course. A beacon tells the branch unless it is heard on a sister by more than
 * `forkOverlapM`: right after a fork both are one room. By the same measure a sister's beacon counts as heard on this one.
 */
export function listForks(
  { links }: Pick<ComplexNetwork, 'links'>,
  course: Course,
  senders: readonly Sender[],
  {
    rules,
    turns,
    misses,
  }: { readonly rules: Rules; readonly turns: Turns; readonly misses: ReturnType<typeof makeMisses> },
): readonly Fork[] {
  const byId = new Map<LinkId, Link>(links.map((link) => [link.id, link]));
  const reachOn = (branch: Sister, { stretches }: Pick<Sender, 'stretches'>) =>
    reachM(byId.get(branch.linkId) as Link, branch.against, stretches);
  return course.steps.flatMap((step, i): Fork[] => {
    const next = course.steps[i + 1];
    if (next === undefined || next.opening !== undefined) return [];
    if (turns.findDecision(step, step.endNode) === undefined) return [];
    const sisters = turns.listSisters(step, next);
    if (sisters.length === 0) return [];
    const own = course.passes.flatMap(({ atM, sender }, pass) => {
      if (atM <= step.toM + SAME_M) return [];
      return [{ pass, tells: sisters.every((sister) => reachOn(sister, sender) <= rules.forkOverlapM) }];
    });
    const strange = senders
      .filter((sender) =>
        sisters.some((sister) => standsOn(byId.get(sister.linkId) as Link, step.endNode, sender)),
      )
      .map((sender) => ({ sender, reachM: reachOn(next, sender), miss: misses(sender.otherBeacons) }))
      .filter((heard) => heard.reachM > rules.forkOverlapM);
    return [{ osmNode: step.endNode, linkId: next.linkId, atM: step.toM, own, strange }];
  });
}

/** Whether a beacon stands on a link, its end at the fork left out. */
function standsOn(link: Link, forkNode: number, { at, node }: Sender): boolean {
  if (node === undefined) return at.linkId === link.id;
  return node !== forkNode && (node === link.fromNode || node === link.toNode);
}

/** How far from the fork's end of a branch on a beacon is heard without a break. */
function reachM(link: Link, against: boolean, stretches: readonly LinkStretch[]): number {
  for (const { linkId, fromM, toM } of stretches) {
    if (linkId !== link.id) continue;
    if (against ? toM >= link.lengthM - SAME_M : fromM <= SAME_M) return toM - fromM;
  }
  return 0;
}
