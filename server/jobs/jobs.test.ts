import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { openInMemory } from '../store/open-embedded.ts';
import type { JobState, NewImport } from './job.ts';
import { createJobs, type Jobs } from './jobs.ts';
import type { Perform } from './run-job.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-jobs-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const source: NewImport['source'] = { kind: 'area', area: { bbox: [0, 0, 1, 1] }, newer: false };
const base = (id: string, other: Partial<NewImport> = {}): NewImport => ({
  id,
  kind: 'import',
  name: id,
  startedAt: '2026-01-01T00:00:00.000Z',
  source,
  ...other,
});

/** Work that ends as it is told to, and gives up when its signal says so. */
function control() {
  const begun: string[] = [];
  const ends = new Map<string, (result: Result<Uint8Array | null>) => void>();
  const perform: Perform = ({ id }, _, report, signal) =>
    new Promise((resolve) => {
      begun.push(id);
      ends.set(id, resolve);
      report({ stage: 'reading', done: begun.length });
      signal.addEventListener('abort', () => resolve(refused(refusal('job-cancelled'))));
    });
  return { begun, perform, end: (id: string, result: Result<Uint8Array | null>) => ends.get(id)?.(result) };
}

const running: Jobs[] = [];
afterEach(async () => {
  for (const jobs of running.splice(0)) await jobs.stop();
});

async function create(perform: Perform, { count = 1, store = openInMemory() } = {}) {
  const bugs: unknown[] = [];
  const opened = await store;
  const onBug = (error: unknown) => bugs.push(error);
  const jobs = createJobs({ store: opened, perform, count, onBug, beatMs: 20, silentMs: 200 });
  running.push(jobs);
  return { jobs, bugs, store: opened };
}

const statuses = async (jobs: Jobs) => (await jobs.list()).map(({ id, state }) => [id, state.status]);

describe('jobs', () => {
  it('are done one after the other, and the rest is told to wait', async () => {
    const { begun, perform, end } = control();
    const { jobs } = await create(perform);
    await jobs.add(base('a', { forSurvey: 's' }));
    await jobs.add(base('b', { forSurvey: 's' }));
    await expect.poll(() => begun).toEqual(['a']);
    await expect
      .poll(async () => (await jobs.find('a'))?.state)
      .toMatchObject({ progress: { stage: 'reading' } });
    expect((await jobs.find('b'))?.state).toEqual({
      status: 'working',
      progress: { stage: 'waiting', done: 0 },
    });
    end('a', done(null));
    await expect.poll(() => begun).toEqual(['a', 'b']);
    end('b', done(null));
    await jobs.settled('b');
    expect(await statuses(jobs)).toEqual([
      ['a', 'ready'],
      ['b', 'ready'],
    ]);
  });

  it('are done several at once where that is asked for', async () => {
    const { begun, perform } = control();
    const { jobs } = await create(perform, { count: 2 });
    for (const id of ['a', 'b', 'c']) await jobs.add(base(id));
    await expect.poll(() => begun).toEqual(['a', 'b']);
  });

  it('of one id are one', async () => {
    const { jobs } = await create(control().perform, { count: 0 });
    await jobs.add(base('a'));
    expect((await jobs.add(base('a', { name: 'other' }))).name).toBe('a');
    expect(await jobs.list()).toHaveLength(1);
  });

  it('that wait are never begun when they are cancelled, and those that run are broken off at once', async () => {
    const { begun, perform } = control();
    const { jobs, bugs } = await create(perform);
    await jobs.add(base('a'));
    await jobs.add(base('b'));
    await jobs.add(base('c'));
    await expect.poll(() => begun).toEqual(['a']);
    expect(await jobs.cancel('b')).toBe(true);
    expect(await jobs.cancel('a')).toBe(true);
    await expect.poll(() => begun).toEqual(['a', 'c']);
    expect(await statuses(jobs)).toEqual([['c', 'working']]);
    expect(await jobs.cancel('a')).toBe(false);
    expect(bugs).toEqual([]);
  });

  it('tell who listens that they were cancelled, once, whatever the work says later', async () => {
    let end = (_: Result<Uint8Array | null>) => {};
    const { jobs } = await create(() => new Promise((resolve) => (end = resolve)));
    await jobs.add(base('a'));
    const heard: (JobState | undefined)[] = [];
    jobs.listen('a', (job) => heard.push(job?.state));
    await expect.poll(() => heard.length).toBeGreaterThan(0);
    await jobs.cancel('a');
    const cancelled = { status: 'refused', refusal: { code: 'job-cancelled', context: {} } };
    await expect.poll(() => heard.at(-1)).toEqual(cancelled);
    const { length } = heard;
    // The work did not look at its signal and found something all the same.
    end(done(null));
    await jobs.add(base('b'));
    await expect.poll(async () => (await statuses(jobs)).length).toBe(1);
    expect(heard).toHaveLength(length);
    expect(await jobs.find('a')).toBeUndefined();
    end(done(null));
  });

  it('that fail through a bug are refused and reported, and the next one is done', async () => {
    const { jobs, bugs } = await create(async ({ id }) => {
      if (id === 'a') throw new Error('a bug');
      return done(null);
    });
    await jobs.add(base('a'));
    await jobs.add(base('b'));
    await jobs.settled('b');
    expect(bugs).toHaveLength(1);
    expect((await jobs.find('a'))?.state).toMatchObject({ refusal: { code: 'import-failed' } });
    expect((await jobs.find('b'))?.state.status).toBe('ready');
  });

  it('that were refused stay to be read, the latest twenty', async () => {
    const { jobs } = await create(async () => refused(refusal('input-empty')));
    for (let i = 0; i < 25; i += 1) await jobs.add(base(`job-${i}`));
    const latest = Array.from({ length: 20 }, (_, i) => [`job-${i + 5}`, 'refused']);
    await expect.poll(() => statuses(jobs)).toEqual(latest);
  });

  it('have the file that was sent, which goes when they have ended, however', async () => {
    const seen: string[] = [];
    const opened = await openInMemory();
    const { uploads } = opened.jobs;
    const perform: Perform = (job) =>
      uploads.read(
        job.kind === 'import' && job.source.kind === 'upload' ? job.source.uploadId : '',
        async (path) => {
          seen.push(path);
          return refused(refusal('input-empty'));
        },
      );
    const path = join(folder, 'sent');
    const send = async () => {
      writeFileSync(path, 'sent');
      return { kind: 'upload', uploadId: await uploads.keep(path), fileName: 'sent.osm' } as const;
    };
    const { jobs } = await create(perform, { store: Promise.resolve(opened) });
    const sent = await send();
    expect(await uploads.read(sent.uploadId, async (there) => readFileSync(there, 'utf8'))).toBe('sent');
    await jobs.add(base('a', { source: sent }));
    await jobs.settled('a');
    expect(seen).toHaveLength(1);
    const size = () => uploads.read(sent.uploadId, async (there) => statSync(there).size);
    await expect.poll(size).toBe(0);
  });
});

describe('a job whose runner has died', () => {
  const die = async () => {
    const store = await openInMemory();
    await store.jobs.rows.add(base('a'));
    return store;
  };
  const beginOnce = async (store: Awaited<ReturnType<typeof openInMemory>>, runner: string) => {
    const handed = await store.jobs.queue.take();
    if (handed === undefined) throw new Error('nothing waits');
    return store.jobs.rows.begin(handed, runner);
  };

  it('is begun again when its heartbeat has been silent, and what the dead one says is not heard', async () => {
    const { begun, perform, end } = control();
    const store = await die();
    const shared = { ...store, jobs: { ...store.jobs, isShared: true } };
    await beginOnce(store, 'dead');
    const { jobs } = await create(perform, { store: Promise.resolve(shared) });
    await expect.poll(() => begun, { timeout: 3000 }).toEqual(['a']);
    const dead = { jobId: 'a', runner: 'dead' };
    expect(await store.jobs.rows.beat(dead)).toBe(false);
    expect(await store.jobs.rows.report(dead, { stage: 'map', done: 9 })).toBe(false);
    expect(await store.jobs.rows.end(dead, refusal('input-empty'))).toBe(false);
    expect((await jobs.find('a'))?.state.status).toBe('working');
    end('a', refused(refusal('input-html')));
    await jobs.settled('a');
    expect((await jobs.find('a'))?.state).toMatchObject({ refusal: { code: 'input-html' } });
  });

  it('is begun again at once where no other server can be doing it', async () => {
    const { begun, perform } = control();
    const store = await die();
    await beginOnce(store, 'dead');
    await create(perform, { store: Promise.resolve(store) });
    await expect.poll(() => begun).toEqual(['a']);
  });

  it('is refused when that has happened three times', async () => {
    const store = await die();
    for (const runner of ['one', 'two', 'three']) {
      expect(await beginOnce(store, runner)).toBeDefined();
      await store.jobs.rows.takeBack({ jobId: 'a', runner });
    }
    expect(await store.jobs.queue.take()).toBeUndefined();
    expect((await store.jobs.rows.find('a'))?.state).toEqual({
      status: 'refused',
      refusal: { code: 'job-died', context: { name: 'a', attempts: 3 } },
    });
  });

  it('was given back by one that stopped, and that does not count', async () => {
    const store = await die();
    for (let i = 0; i < 5; i += 1) {
      const { begun, perform } = control();
      const { jobs } = await create(perform, { store: Promise.resolve(store) });
      await expect.poll(() => begun).toEqual(['a']);
      await jobs.stop();
      expect((await jobs.find('a'))?.state).toMatchObject({ progress: { stage: 'waiting' } });
    }
    expect(await beginOnce(store, 'last')).toBeDefined();
  });
});
