import type { ComplexNetwork } from '../../shared/network/network.ts';
import { toLayoutInput } from '../../shared/pipeline/to-layout-input.ts';
import { checkDesignable } from '../../shared/placement/check-designable.ts';
import { askFewest } from '../../shared/placement/fewest/lay-fewest.ts';
import type { CoverageGap } from '../../shared/placement/fewest/question.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { solveInThread } from '../solver/solve-in-thread.ts';
import { tell } from './tell.ts';

/**
 * The scheme with the solver's answer, where it gives one: it looks for the fewest beacons of a complex for about
 * `timeLimitS`, at 0 not at all. An interrupt (Ctrl+C) ends the search, not the command: what the sweep found is used.
 */
export async function proveFewest(
  network: ComplexNetwork,
  rules: Rules,
  scheme: Scheme,
  timeLimitS: number,
): Promise<Scheme> {
  if (
    timeLimitS === 0 ||
    rules.method !== 'fewest' ||
    checkDesignable(network.complex, rules) !== undefined
  ) {
    return scheme;
  }
  const input = toLayoutInput(network, rules, scheme);
  const question = askFewest(input);
  const stop = new AbortController();
  const interrupt = () => stop.abort();
  process.once('SIGINT', interrupt);
  const start = Date.now();
  const clock = setInterval(
    () => tell(`looking for the fewest: ${Math.round((Date.now() - start) / 1000)} s`),
    1000,
  );
  try {
    const solved = await solveInThread({ question, rules: input.rules, timeLimitS }, stop.signal);
    return solved === undefined ? scheme : { ...scheme, solution: solved.solution };
  } finally {
    clearInterval(clock);
    process.off('SIGINT', interrupt);
  }
}

/** One line for a place where a rule cannot be kept. */
export function describeGap({ kind, linkId, chainageM, need, found }: CoverageGap): string {
  const metres = Math.round(chainageM);
  const place = `${Math.floor(metres / 1000)}+${String(metres % 1000).padStart(3, '0')} of ${linkId}`;
  switch (kind) {
    case 'gap':
      return `past ${place} there is no free place within the spacing (${found} of ${need})`;
    case 'coverage':
      return `at ${place} only ${found} of ${need} beacons can be heard`;
    case 'decision':
      return `before the decision at ${place} only ${found} of ${need} beacons can stand in sight`;
    case 'branch':
      return `on the branch at ${place} there is no free place to confirm it (${found} of ${need})`;
  }
}
