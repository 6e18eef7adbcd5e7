import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import type { NewImport } from '../../server/jobs/job.ts';
import { createJobs, type Jobs } from '../../server/jobs/jobs.ts';
import type { Perform } from '../../server/jobs/run-job.ts';
import { openEmbedded, openInMemory } from '../../server/store/open-embedded.ts';
import { openPostgres } from '../../server/store/open-postgres.ts';
import type { Store, SurveyRecord } from '../../server/store/store.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import type { Result } from '../../shared/outcome/result.ts';
import { done, refused } from '../../shared/outcome/result.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { startPostgres } from './start-postgres.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-jobs-'));
const postgres = startPostgres({ settings: ['fsync=off'] });
if (postgres === undefined) {
  if (process.env.CI) throw new Error('CI must have a PostgreSQL (install Debian’s postgresql)');
  console.warn('No PostgreSQL was found: jobs are tested without it. Install one to test both.');
}
afterAll(() => {
  postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const now = () => new Date('2026-03-01T00:00:00.000Z');
let count = 0;

/** Every store must pass; `open` opens a new, empty one, as often as it can be opened. */
const STORES: readonly (readonly [string, () => () => Promise<Store>])[] = [
  [
    'embedded',
    () => {
      count += 1;
      const own = join(folder, `store-${count}`);
      return async () => unwrap(await openEmbedded(own, now));
    },
  ],
  ['memory', () => () => openInMemory(now)],
  ...(postgres === undefined
    ? []
    : [
        [
          'PostgreSQL',
          () => {
            count += 1;
            const name = `jobs_${count}`;
            postgres.ask(`CREATE DATABASE ${name}`);
            return async () => unwrap(await openPostgres(postgres.url(name), now, () => {}));
          },
        ] as const,
      ]),
];

function unwrap(result: Result<Store>): Store {
  if (!result.ok) throw new Error(JSON.stringify(result.refusal));
  return result.value;
}

const stores: Store[] = [];
const running: Jobs[] = [];
afterEach(async () => {
  for (const jobs of running.splice(0)) await jobs.stop();
  for (const store of stores.splice(0)) await store.close();
});

function job(id: string, other: Partial<NewImport> = {}): NewImport {
  const source: NewImport['source'] = { kind: 'area', area: { bbox: [0, 0, 1, 1] }, newer: false };
  return { id, kind: 'import', name: id, startedAt: '2026-01-01T00:00:00.000Z', source, ...other };
}

function survey(id: string, name: string): SurveyRecord {
  return {
    id,
    name,
    demo: false,
    createdAt: '2026-01-01T00:00:00.000Z',
    revision: 0,
    rules: DEFAULT_RULES,
    source: { format: 'osm-xml', name: 'a.osm' },
    extractId: `extract-${name}`,
    log: [],
    evidence: {},
    ways: 1,
    tunnelWays: 1,
    network: { links: [], complexes: [] },
    findings: [],
    contextGzip: new Uint8Array([1, 2, 3]),
  };
}

const extract = new Uint8Array([4, 5, 6]);

async function begin({ jobs: { queue, rows } }: Store, runner: string) {
  const handed = await queue.take();
  return handed === undefined ? undefined : rows.begin(handed, runner);
}

function start(store: Store, perform: Perform, amount = 1): Jobs {
  const onBug = (error: unknown) => {
    throw error;
  };
  const jobs = createJobs({ store, perform, count: amount, onBug, beatMs: 50, silentMs: 600 });
  running.push(jobs);
  return jobs;
}

describe.each(STORES)('jobs of the %s store', (_, makeOpen) => {
  const create = async () => {
    const store = await makeOpen()();
    stores.push(store);
    return store;
  };

  it('are handed out in their order, each once, and one that was given back goes first', async () => {
    const store = await create();
    const { rows } = store.jobs;
    for (const id of ['a', 'b', 'c']) await rows.add(job(id));
    const got = [(await begin(store, 'one'))?.id, (await begin(store, 'two'))?.id];
    expect(got).toEqual(['a', 'b']);
    expect(await rows.giveBack({ jobId: 'b', runner: 'two' })).toBe(true);
    expect(await rows.giveBack({ jobId: 'b', runner: 'two' })).toBe(false);
    expect([(await begin(store, 'three'))?.id, (await begin(store, 'four'))?.id]).toEqual(['b', 'c']);
    expect(await begin(store, 'five')).toBeUndefined();
  });

  it('that were cancelled while they waited are not handed out', async () => {
    const store = await create();
    const { rows } = store.jobs;
    await rows.add(job('a'));
    await rows.add(job('b'));
    expect((await rows.remove('a'))?.id).toBe('a');
    expect(await rows.remove('a')).toBeUndefined();
    const got = [await begin(store, 'one'), await begin(store, 'two')].map((found) => found?.id);
    expect(got.filter((id) => id !== undefined)).toEqual(['b']);
  });

  it('keep a survey once, whoever is taken for dead and goes on all the same', async () => {
    const store = await create();
    const { rows } = store.jobs;
    await rows.add(job('s'));
    await begin(store, 'late');
    await rows.takeBack({ jobId: 's', runner: 'late' });
    await begin(store, 'second');
    const lateRun = { jobId: 's', runner: 'late' };
    expect(await store.saveSurvey(survey('s', 'late'), extract, lateRun)).toBe(false);
    expect(await store.findSurvey('s')).toBeUndefined();
    expect(await store.saveSurvey(survey('s', 'second'), extract, { jobId: 's', runner: 'second' })).toBe(
      true,
    );
    expect(await rows.find('s')).toBeUndefined();
    expect(await store.saveSurvey(survey('s', 'late'), extract, lateRun)).toBe(false);
    expect((await store.findSurvey('s'))?.name).toBe('second');
  });

  it('that were cancelled keep nothing, even where they were done already', async () => {
    const store = await create();
    await store.jobs.rows.add(job('s'));
    await begin(store, 'one');
    await store.jobs.rows.remove('s');
    expect(await store.saveSurvey(survey('s', 's'), extract, { jobId: 's', runner: 'one' })).toBe(false);
    expect(await store.listSurveys()).toEqual([]);
  });

  it('have files of some megabytes, byte for byte, until they are removed', async () => {
    const { uploads } = (await create()).jobs;
    const bytes = new Uint8Array(5_000_123).map((_, i) => (i * 2_654_435_761) >>> 13);
    const path = join(folder, `sent-${count}`);
    writeFileSync(path, bytes);
    const id = await uploads.keep(path);
    expect(() => readFileSync(path)).toThrow(/ENOENT/);
    const read = () => uploads.read(id, async (there) => new Uint8Array(readFileSync(there)));
    expect(Buffer.compare(await read(), bytes)).toBe(0);
    await uploads.removeOthers([id]);
    expect((await read()).length).toBe(bytes.length);
    await uploads.remove(id);
    expect((await read().catch(() => new Uint8Array())).length).toBe(0);
  });

  it('are told of by everybody’s notices, and end in words where three runners have died', async () => {
    const store = await create();
    await store.jobs.rows.add(job('a'));
    const heard: string[] = [];
    const jobs = start(store, async () => done(null), 0);
    jobs.listen('a', (told) => heard.push(JSON.stringify(told?.state)));
    for (const runner of ['one', 'two', 'three']) {
      await expect.poll(() => begin(store, runner), { timeout: 5000 }).toBeDefined();
      await store.jobs.rows.report({ jobId: 'a', runner }, { stage: 'reading', done: 7 });
      await expect.poll(() => heard.at(-1)).toContain('"reading"');
      // Nobody beats: whoever watches finds it silent.
      await expect.poll(() => heard.at(-1), { timeout: 5000 }).not.toContain('"reading"');
    }
    expect(heard.at(-1)).toBe(
      JSON.stringify({ status: 'refused', refusal: refusal('job-died', { name: 'a', attempts: 3 }) }),
    );
  });

  it('go on with whoever beats for longer than the limit, and are done once', async () => {
    const store = await create();
    let times = 0;
    const jobs = start(store, async () => {
      times += 1;
      await new Promise((resolve) => setTimeout(resolve, 1500));
      return refused(refusal('input-empty'));
    });
    await jobs.add(job('a'));
    await jobs.settled('a');
    expect([times, (await jobs.find('a'))?.state.status]).toEqual([1, 'refused']);
  });
});

describe('jobs of two servers on one database', () => {
  it('are done once each, and are cancelled from the one that does not do them', async ({ skip }) => {
    if (postgres === undefined) return skip('no PostgreSQL was found');
    postgres.ask('CREATE DATABASE pair');
    const open = async () => {
      const store = unwrap(await openPostgres(postgres.url('pair'), now, () => {}));
      stores.push(store);
      return store;
    };
    const [one, other, third] = [await open(), await open(), await open()];
    const did: string[] = [];
    const broken: string[] = [];
    const perform: Perform = ({ id }, _run, _report, signal) =>
      new Promise((resolve) => {
        did.push(id);
        if (id !== 'long') return resolve(done(null));
        signal.addEventListener('abort', () => {
          broken.push(id);
          resolve(refused(refusal('job-cancelled')));
        });
      });
    const [a, b] = [start(one, perform, 2), start(other, perform, 2)];
    const watcher = start(third, perform, 0);
    await Promise.all(Array.from({ length: 20 }, (_, i) => (i % 2 ? a : b).add(job(`job-${i}`))));
    await expect
      .poll(async () => (await watcher.list()).filter(({ state }) => state.status === 'ready').length, {
        timeout: 10_000,
      })
      .toBe(20);
    expect([...did].sort()).toEqual(Array.from({ length: 20 }, (_, i) => `job-${i}`).sort());

    await a.add(job('long'));
    const heard: (string | undefined)[] = [];
    watcher.listen('long', (told) =>
      heard.push(told?.state.status === 'refused' ? told.state.refusal.code : told?.state.status),
    );
    await expect.poll(() => did).toContain('long');
    expect(await watcher.cancel('long')).toBe(true);
    await expect.poll(() => broken).toEqual(['long']);
    await expect.poll(() => heard.at(-1)).toBe('job-cancelled');
    expect(await a.find('long')).toBeUndefined();
  }, 60_000);
});
