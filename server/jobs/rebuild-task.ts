import type { GroupingOverride } from '../../shared/network/group-links.ts';
import type { TunnelNetwork } from '../../shared/network/network.ts';
import type { Result } from '../../shared/outcome/result.ts';
import { type Rebuilt, rebuildSurvey } from '../../shared/pipeline/rebuild-survey.ts';
import { unpackExtract } from '../extracts/pack-extract.ts';

/** What a rebuild is asked to do: a survey's network anew, from a packed extract, under the ids of `before`. */
export type RebuildTask = {
  readonly packed: Uint8Array;
  readonly name: string;
  readonly before: TunnelNetwork;
  readonly overrides: readonly GroupingOverride[];
};

/** Builds a survey's network anew. Runs in a worker thread so that the server keeps serving. */
export async function runRebuild({ packed, name, before, overrides }: RebuildTask): Promise<Result<Rebuilt>> {
  return rebuildSurvey(before, await unpackExtract(packed), name, overrides);
}
