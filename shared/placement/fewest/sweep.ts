import { type CoverState, choose, drop, helpOf, isSpare, makeCoverState } from './cover-state.ts';
import type { Question } from './question.ts';

/**
 * Finds few candidates that keep every row, quickly and always the same: from the ends of the network towards a root,
 * each row that lacks a beacon takes the one that is nearest to the root; then what is spare goes. Tried from several
 * roots, and from a choice that another method made, so that it never needs more than that. Where the network is a tree that is hardly ever more than the fewest. Numbers of the candidates, those fixed
 * included, ascending.
 */
export function sweep(question: Question): readonly number[] {
  const swept = question.depths.map((depth) => sweepFrom(question, depth));
  const states = question.known === undefined ? swept : [...swept, thin(question, question.known)];
  const best = states.reduce((least, one) => (one.count < least.count ? one : least));
  const chosen = question.candidates.map((_, i) => i).filter((i) => best.chosen[i] === 1);
  return [...question.fixed, ...chosen].sort((a, b) => a - b);
}

function sweepFrom(question: Question, depth: Float64Array): CoverState {
  const state = makeCoverState(question);
  const { rows } = question;
  const top = Float64Array.from(rows, ({ of }) =>
    of.reduce((least, c) => Math.min(least, depth[c] ?? 0), Infinity),
  );
  const order = rows.map((_, row) => row).sort((a, b) => (top[b] ?? 0) - (top[a] ?? 0) || a - b);
  const laid: number[] = [];
  for (const row of order) {
    while ((state.lacking[row] ?? 0) > 0) {
      const candidate = findNearest(state, rows[row]?.of ?? [], depth);
      if (candidate === undefined) throw new Error('a row asks for more than there is');
      choose(state, candidate);
      laid.push(candidate);
    }
  }
  for (const candidate of laid) if (isSpare(state, candidate)) drop(state, candidate);
  return state;
}

/** A choice that keeps every row, without what is spare. */
function thin(question: Question, known: readonly number[]): CoverState {
  const state = makeCoverState(question);
  const fixed = new Set(question.fixed);
  const free = known.filter((candidate) => !fixed.has(candidate));
  for (const candidate of free) choose(state, candidate);
  for (const candidate of free) if (isSpare(state, candidate)) drop(state, candidate);
  return state;
}

/** Places that are this near to each other are equally near to the root, metres. */
const SAME_M = 1e-6;

function findNearest(state: CoverState, of: readonly number[], depth: Float64Array): number | undefined {
  let best: number | undefined;
  let bestHelp = 0;
  for (const candidate of of) {
    if (state.chosen[candidate] === 1) continue;
    const nearerM = best === undefined ? Infinity : (depth[best] ?? 0) - (depth[candidate] ?? 0);
    if (nearerM < -SAME_M) continue;
    const help = helpOf(state, candidate);
    if (nearerM > SAME_M || help > bestHelp) {
      best = candidate;
      bestHelp = help;
    }
  }
  return best;
}
