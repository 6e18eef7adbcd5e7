import { gzipSync } from 'node:zlib';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import type { DrivenTunnel, DriveTask } from '../jobs/drive-task.ts';
import type { NewDrives } from '../jobs/job.ts';
import type { Store } from '../store/store.ts';

export type RunDrives = (
  task: DriveTask,
  report: (progress: Progress) => void,
  signal: AbortSignal,
) => Promise<Result<readonly DrivenTunnel[]>>;

/**
 * Drives tunnels of a survey as it stands now; answers what they came to as packDrives. Whoever asked looks by the
 * digests whether that is the state that was meant.
 */
export async function doDrives(
  store: Store,
  run: RunDrives,
  { forSurvey, complexIds, caseName, name }: NewDrives,
  report: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Result<Uint8Array>> {
  const survey = await store.findSurvey(forSurvey);
  if (survey === undefined) return refused(refusal('survey-unknown', { id: forSurvey }));
  const schemes = new Map((await store.listSchemes(forSurvey)).map((scheme) => [scheme.complexId, scheme]));
  const asked = new Set(complexIds);
  const tunnels = listComplexNetworks(survey.network)
    .filter(({ complex }) => asked.has(complex.id))
    .map((network) => {
      const { id } = network.complex;
      return { network, scheme: schemes.get(id) ?? makeScheme(id) };
    });
  const task = { name, rules: survey.rules, tunnels, ...(caseName === undefined ? {} : { caseName }) };
  const driven = await run(task, report, signal);
  return driven.ok ? done(gzipSync(JSON.stringify(driven.value))) : driven;
}
