import { describe, expect, it } from 'vitest';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { createImportJobs, type JobState, type Work } from './import-jobs.ts';
import type { ImportedSurvey } from './import-task.ts';

const found = done({ ways: 1 } as ImportedSurvey);
const base = (id: string) => ({ id, name: id, demo: false, startedAt: '2026-01-01T00:00:00.000Z' });

/** Work that is done when it is told to be, and gives up when its signal says so. */
function controlled(): { work: Work; finish: () => void } {
  let finish = () => {};
  const told = new Promise<void>((resolve) => {
    finish = resolve;
  });
  const work: Work = (_, signal) =>
    new Promise<Result<ImportedSurvey>>((resolve) => {
      signal.addEventListener('abort', () => resolve(refused(refusal('job-cancelled'))));
      void told.then(() => resolve(found));
    });
  return { work, finish };
}

const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

function create() {
  const bugs: unknown[] = [];
  const kept: string[] = [];
  const jobs = createImportJobs((error) => bugs.push(error));
  const start = (id: string, work: Work) => jobs.start(base(id), work, async () => void kept.push(id));
  return { jobs, bugs, kept, start };
}

describe('imports', () => {
  it('run one after the other, and are forgotten once they are kept', async () => {
    const { jobs, kept, start } = create();
    const first = controlled();
    let secondBegan = false;
    start('a', first.work);
    start('b', async () => {
      secondBegan = true;
      return found;
    });
    await settle();
    expect(secondBegan).toBe(false);
    first.finish();
    await settle();
    expect(kept).toEqual(['a', 'b']);
    expect(jobs.list()).toEqual([]);
  });

  it('let the work of a cancelled one run even where it was still waiting, so that it can clear up', async () => {
    const { jobs, kept, start } = create();
    const first = controlled();
    const cleared: string[] = [];
    start('a', first.work);
    start('b', async (_, signal) => {
      cleared.push(signal.aborted ? 'b, aborted' : 'b');
      return refused(refusal('job-cancelled'));
    });
    await settle();
    expect(jobs.cancel('b')).toBe(true);
    first.finish();
    await settle();
    expect(cleared).toEqual(['b, aborted']);
    expect(kept).toEqual(['a']);
  });

  it('tell a listener of a cancelled one that it was cancelled, once, whatever its work says later', async () => {
    const { jobs, kept, start } = create();
    const heard: JobState['status'][] = [];
    let finish = (_: Result<ImportedSurvey>) => {};
    start('a', () => new Promise((resolve) => (finish = resolve)));
    await settle();
    jobs.listen('a', (state) => heard.push(state.status));
    jobs.cancel('a');
    // The work did not look at its signal and found something all the same.
    finish(found);
    await settle();
    expect(heard).toEqual(['working', 'refused']);
    expect(kept).toEqual([]);
    expect(jobs.find('a')).toBeUndefined();
  });

  it('that fail through a bug are refused and reported, and the next one runs', async () => {
    const { jobs, bugs, kept, start } = create();
    start('a', async () => {
      throw new Error('a bug');
    });
    start('b', async () => found);
    await settle();
    expect(bugs).toHaveLength(1);
    expect(jobs.find('a')?.state).toMatchObject({ status: 'refused', refusal: { code: 'import-failed' } });
    expect(kept).toEqual(['b']);
  });

  it('that were refused stay to be read, the latest twenty', async () => {
    const { jobs, start } = create();
    for (let i = 0; i < 25; i += 1) start(`job-${i}`, async () => refused(refusal('input-empty')));
    await settle();
    expect(jobs.list().map((job) => job.id)).toEqual(Array.from({ length: 20 }, (_, i) => `job-${i + 5}`));
  });
});
