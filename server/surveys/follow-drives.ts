import type { DrivesView } from '../../shared/wire/ranking.ts';
import type { Job, NewDrives } from '../jobs/job.ts';

type DrivesJob = NewDrives & Pick<Job, 'state'>;

/** The drives of a survey that wait or are on the way. */
export function listDrives(jobs: readonly Job[], surveyId: string): readonly DrivesJob[] {
  return listAll(jobs, surveyId).filter(({ state }) => state.status === 'working');
}

/** How many tunnels are to be driven, with those that were asked for at the same time and are done; 0 of 0 where none. */
export function measureDrives(jobs: readonly Job[], surveyId: string): DrivesView {
  const working = listDrives(jobs, surveyId);
  const since = working.map(({ startedAt }) => startedAt).sort()[0];
  if (since === undefined) return { done: 0, total: 0 };
  const together = listAll(jobs, surveyId).filter(
    ({ state, startedAt }) => state.status !== 'refused' && startedAt >= since,
  );
  let done = 0;
  let total = 0;
  for (const { state, complexIds } of together) {
    total += complexIds.length;
    done += state.status === 'working' ? state.progress.done : complexIds.length;
  }
  return { done, total };
}

function listAll(jobs: readonly Job[], surveyId: string): readonly DrivesJob[] {
  return jobs.flatMap((job) => (job.kind === 'drives' && job.forSurvey === surveyId ? [job] : []));
}
