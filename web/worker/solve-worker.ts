import loadHighs from 'highs';
import wasmUrl from 'highs/runtime?url';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { toLayoutInput } from '../../shared/pipeline/to-layout-input.ts';
import { askFewest } from '../../shared/placement/fewest/lay-fewest.ts';
import { type Solved, solveFewest } from '../../shared/placement/fewest/solve-fewest.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';

/** One question, for the worker's whole life: a search can only be stopped by ending the worker. */
export type SolveRequest = {
  readonly network: ComplexNetwork;
  readonly surveyRules: Rules;
  readonly scheme: Scheme;
  readonly timeLimitS: number;
};

export type SolveReply = { readonly solved?: Solved; readonly error?: string };

self.onmessage = ({ data }: MessageEvent<SolveRequest>) => {
  answer(data).then(
    (solved) => self.postMessage({ solved } satisfies SolveReply),
    (error: unknown) =>
      self.postMessage({
        error: error instanceof Error ? error.message : String(error),
      } satisfies SolveReply),
  );
};

async function answer({ network, surveyRules, scheme, timeLimitS }: SolveRequest): Promise<Solved> {
  const highs = await loadHighs({ locateFile: () => wasmUrl });
  const input = toLayoutInput(network, surveyRules, scheme);
  return solveFewest(askFewest(input), input.rules, highs, { timeLimitS });
}
