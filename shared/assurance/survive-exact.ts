import type { ArcNumber } from '../placement/driven-arcs.ts';
import type { Bore, BoreGraph } from './bore-graph.ts';

/**
 * What a part of the tunnel leaves at the place where it joins the rest: how far a driver who comes out of it has
 * driven since the last fix, and how far one who goes in has to the next, metres; −1 where nobody drives that way.
 */
type State = { readonly towardM: number; readonly awayM: number; readonly share: number };

/** How many rows of states may still be looked at: where many bores meet, their states multiply. */
export type RowsLeft = { rows: number };

/** More rows than these take longer than trials, and where six bores meet more memory than there is. */
export const MAX_ROWS = 1_000_000;

/**
 * The chance that no drive goes farther than `limitM` without a fix, each beacon failed with the chance
 * `failureShare`: exact, beacon by beacon along every bore and over every fork. Undefined where bores form a ring, and
 * where more rows of states would be looked at than are left. The chain alone is the linear consecutive-k-out-of-n:F
 * system with unequal gaps.
 */
export function findExactSurvival(
  graph: BoreGraph,
  failureShare: number,
  limitM: number,
  left: RowsLeft = { rows: MAX_ROWS },
): number | undefined {
  const joints = listJoints(graph);
  if (!isForest(joints, graph.bores.length)) return undefined;
  const part = makeParts(graph, joints, failureShare, limitM, left);
  const seen = new Set<Joint>();
  let share = 1;
  for (const joint of new Set(joints.flat())) {
    if (seen.has(joint)) continue;
    markReached(joint, joints, seen);
    share *= sumOf(part(joint, undefined));
    if (left.rows < 0) return undefined;
  }
  return share;
}

/** Where bores join below ground, or one end of one bore in the open air. */
type Joint = { readonly node: number; readonly isOpen: boolean; readonly bores: number[] };
/** By bore: its joint at the start and at the end of its chainage. */
type Joints = readonly (readonly [Joint, Joint])[];

function listJoints({ bores, open }: BoreGraph): Joints {
  const below = new Map<number, Joint>();
  const jointAt = (node: number, bore: number): Joint => {
    const known = below.get(node);
    if (known !== undefined) {
      known.bores.push(bore);
      return known;
    }
    const made = { node, isOpen: open.has(node), bores: [bore] };
    if (!made.isOpen) below.set(node, made);
    return made;
  };
  return bores.map(({ fromNode, toNode }, i) => [jointAt(fromNode, i), jointAt(toNode, i)]);
}

function isForest(joints: Joints, boreCount: number): boolean {
  const all = new Set(joints.flat());
  const seen = new Set<Joint>();
  let parts = 0;
  for (const joint of all) {
    if (seen.has(joint)) continue;
    parts += 1;
    markReached(joint, joints, seen);
  }
  return boreCount === all.size - parts;
}

function markReached(from: Joint, joints: Joints, seen: Set<Joint>): void {
  const open = [from];
  for (let joint = open.pop(); joint !== undefined; joint = open.pop()) {
    if (seen.has(joint)) continue;
    seen.add(joint);
    for (const bore of joint.bores) open.push(...(joints[bore] ?? []));
  }
}

/** Makes the function that gives the states at a joint of everything but `to`, the bore that leads on. */
function makeParts(graph: BoreGraph, joints: Joints, failureShare: number, limitM: number, left: RowsLeft) {
  const isLegal = (from: ArcNumber, to: ArcNumber) => graph.next[from]?.includes(to) === true;
  const inward = (bore: number, { node }: Joint) => 2 * bore + Number(graph.bores[bore]?.toNode !== node);

  const part = (joint: Joint, to: number | undefined): readonly State[] => {
    if (joint.isOpen && to !== undefined) return [{ towardM: 0, awayM: 0, share: 1 }];
    const sides = joint.bores
      .filter((bore) => bore !== to)
      .map((bore) => {
        const [start, end] = joints[bore] as readonly [Joint, Joint];
        const isAlong = end === joint;
        const states = part(isAlong ? start : end, bore);
        return {
          arc: inward(bore, joint),
          states: passBore(graph.bores[bore] as Bore, isAlong, states, failureShare, limitM),
        };
      });
    const allFail = joint.isOpen ? 0 : failureShare ** (graph.atNode.get(joint.node)?.length ?? 0);
    if (allFail > 0) left.rows -= sides.reduce((rows, { states }) => rows * states.length, 1);
    // What is found then is not asked for.
    if (left.rows < 0) return [];
    const total = sides.reduce((share, { states }) => share * sumOf(states), 1);
    const states: State[] = [{ towardM: 0, awayM: 0, share: total * (1 - allFail) }];
    for (const { row, share } of allFail > 0 ? combine(sides.map((side) => side.states)) : []) {
      const isHeld = sides.every(({ arc }, i) =>
        sides.every(
          (other, k) =>
            !isLegal(arc, other.arc ^ 1) || (row[i] as State).towardM + (row[k] as State).awayM <= limitM,
        ),
      );
      if (!isHeld) continue;
      const lead = to === undefined ? undefined : inward(to, joint);
      const farthest = (isPart: (arc: ArcNumber) => boolean, far: (state: State) => number) =>
        Math.max(0, ...sides.map(({ arc }, i) => (isPart(arc) ? far(row[i] as State) : 0)));
      states.push({
        towardM:
          lead === undefined
            ? 0
            : farthest(
                (arc) => isLegal(arc, lead ^ 1),
                (one) => one.towardM,
              ),
        awayM:
          lead === undefined
            ? 0
            : farthest(
                (arc) => isLegal(lead, arc ^ 1),
                (one) => one.awayM,
              ),
        share: share * allFail,
      });
    }
    return merge(states);
  };
  return part;
}

/** The states at the far end of a bore, from those at its near end; states that break the limit are gone. */
function passBore(
  bore: Bore,
  isAlong: boolean,
  states: readonly State[],
  failureShare: number,
  limitM: number,
): readonly State[] {
  const towardM = (isAlong ? bore.along : bore.against) ? 0 : -1;
  const awayM = (isAlong ? bore.against : bore.along) ? 0 : -1;
  const move = (from: readonly State[], byM: number) =>
    from
      .map((one) => ({
        towardM: towardM < 0 ? -1 : one.towardM + byM,
        awayM: awayM < 0 ? -1 : one.awayM + byM,
        share: one.share,
      }))
      .filter((one) => Math.max(one.towardM, one.awayM) <= limitM);
  const places = bore.places.map(({ chainageM }) => (isAlong ? chainageM : bore.lengthM - chainageM));
  let atM = 0;
  let here = states;
  for (const placeM of places.sort((a, b) => a - b)) {
    const reached = move(here, placeM - atM);
    const heard = { towardM, awayM, share: sumOf(reached) * (1 - failureShare) };
    here = [...reached.map((one) => ({ ...one, share: one.share * failureShare })), heard];
    here = here.filter(({ share }) => share > 0);
    atM = placeM;
  }
  return move(here, bore.lengthM - atM);
}

function combine(
  sides: readonly (readonly State[])[],
): readonly { readonly row: readonly State[]; readonly share: number }[] {
  let rows: { row: readonly State[]; share: number }[] = [{ row: [], share: 1 }];
  for (const states of sides) {
    rows = rows.flatMap(({ row, share }) =>
      states.map((state) => ({ row: [...row, state], share: share * state.share })),
    );
  }
  return rows;
}

function merge(states: readonly State[]): readonly State[] {
  const merged = new Map<string, State>();
  for (const state of states) {
    if (state.share === 0) continue;
    const key = `${state.towardM} ${state.awayM}`;
    merged.set(key, { ...state, share: state.share + (merged.get(key)?.share ?? 0) });
  }
  return [...merged.values()];
}

function sumOf(states: readonly State[]): number {
  return states.reduce((sum, { share }) => sum + share, 0);
}
