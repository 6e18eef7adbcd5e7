import { done, type Result } from '../../shared/outcome/result.ts';
import { compareRevisions } from '../../shared/pipeline/compare-revisions.ts';
import type { NetworkComparison, StandingSurvey } from '../../shared/pipeline/compare-surveys.ts';

/** Two states of a survey; where the network is the same in both, it is one object. */
export type CompareTask = {
  readonly name: string;
  readonly before: StandingSurvey;
  readonly after: StandingSurvey;
};

/** Compares two states of a survey. Runs in a worker thread so that the server keeps serving: both are laid out anew. */
export function runCompare({ before, after }: CompareTask): Result<NetworkComparison> {
  return done(compareRevisions(before, after));
}
