import { afterEach, describe, expect, it } from 'vitest';
import { type DriveTask, runDrives } from '../../server/jobs/drive-task.ts';
import { createJobs, type Jobs } from '../../server/jobs/jobs.ts';
import { runInWorker } from '../../server/jobs/run-in-worker.ts';
import type { Store, SurveyRecord } from '../../server/store/store.ts';
import type { RunDrives } from '../../server/surveys/do-drives.ts';
import { createPerform } from '../../server/surveys/do-job.ts';
import { createDriveMany } from '../../server/surveys/drive-many.ts';
import { listDrives, measureDrives } from '../../server/surveys/follow-drives.ts';
import { createDrives } from '../../server/surveys/survey-drives.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { buildSurvey, listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { driveComplex } from '../../shared/pipeline/rank-survey.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import { drawPlace } from '../places/draw-place.ts';
import { listStores } from './stores.ts';

const now = () => new Date('2026-03-01T00:00:00.000Z');
const TUNNELS = 45;

/** Tunnels far from each other, each with a ramp that leaves it underground: drives have something to fail at. */
function drawCity(): SurveyRecord {
  const bore = { highway: 'trunk', oneway: 'yes', tunnel: 'yes', lanes: '2', maxspeed: '80' };
  const nodes: Record<number, [number, number]> = {};
  const ways: { id: number; nodes: number[]; tags: Record<string, string> }[] = [];
  for (let i = 0; i < TUNNELS; i += 1) {
    const [id, east] = [1 + i * 10, i * 10_000];
    Object.assign(nodes, {
      [id]: [east, 0],
      [id + 1]: [east + 500 + 10 * i, 0],
      [id + 2]: [east + 1200 + 10 * i, 0],
      [id + 3]: [east + 800 + 10 * i, -90],
    });
    ways.push({ id, nodes: [id, id + 1, id + 2], tags: bore });
    ways.push({ id: id + 1, nodes: [id + 1, id + 3], tags: { ...bore, highway: 'trunk_link', lanes: '1' } });
  }
  const built = buildSurvey(drawPlace({ nodes, ways }), 'city');
  if (!built.ok) throw new Error(built.refusal.code);
  return {
    ...built.value,
    id: 'city',
    name: 'city',
    demo: false,
    createdAt: now().toISOString(),
    revision: 0,
    rules: DEFAULT_RULES,
    source: { format: 'osm-json', name: 'city.json' },
    extractId: 'extract-1',
    log: [],
    evidence: {},
    contextGzip: new Uint8Array([1]),
  };
}

const city = drawCity();
const designed = listComplexNetworks(city.network).map((network) => {
  const { value: design } = designComplex(network, city.rules, makeScheme(network.complex.id));
  return { network, design };
});

const here: RunDrives = async (task) => runDrives(task, () => {});

describe.each(listStores(now))('drives as jobs in the %s store', (_, makeOpen) => {
  const stores: Store[] = [];
  const running: Jobs[] = [];
  afterEach(async () => {
    for (const jobs of running.splice(0)) await jobs.stop();
    for (const store of stores.splice(0)) await store.close();
  });

  const create = async (run: RunDrives, count = 1) => {
    const store = await makeOpen()();
    stores.push(store);
    await store.saveSurvey(city, new Uint8Array([1]));
    const done: string[] = [];
    const bugs: unknown[] = [];
    const runDrives: RunDrives = (task, ...rest) => {
      done.push(`${task.tunnels.length} ${task.caseName ?? ''}`.trim());
      return run(task, ...rest);
    };
    const overpass = { ask: async () => refused(refusal('overpass-busy')) };
    const runImport = async () => refused(refusal('input-empty'));
    const perform = createPerform({ store, overpass, runImport, runDrives });
    const jobs = createJobs({ store, perform, count, onBug: (error) => bugs.push(error) });
    running.push(jobs);
    const driveMany = createDriveMany({ store, jobs, now, edition: 'one' });
    return { store, jobs, driveMany, done, bugs };
  };

  it('come to the very same as drives here, through a thread and the store', async () => {
    const { driveMany, done, bugs } = await create((task, report, signal) =>
      runInWorker<'drives'>({ kind: 'drives', task }, report, signal),
    );
    const found = await driveMany('city', designed, undefined);
    const expected = designed.map(({ network, design }) => driveComplex(network, design));
    expect(designed.map(({ network }) => found.get(network.complex.id))).toStrictEqual(expected);
    expect(expected.flat().some(({ misguidedShare }) => misguidedShare.without > 0.1)).toBe(true);
    // Asked for once more nothing is driven; with another assumption it is another job, and comes to something else.
    await driveMany('city', designed, undefined);
    const other = await driveMany('city', designed, 'half the spread of the speed');
    expect(done).toEqual(['45', '45 half the spread of the speed']);
    expect([...other.values()]).not.toEqual([...found.values()]);
    expect(bugs).toEqual([]);
  });

  it('are not done twice for two who ask at the same time, and are cut into parts', async () => {
    const { driveMany, done } = await create(here);
    const many = Array.from({ length: 7 }, (_, i) =>
      designed.map(({ network, design }) => ({
        network: {
          ...network,
          complex: { ...network.complex, id: `${network.complex.id}~${i}` as typeof network.complex.id },
        },
        design,
      })),
    ).flat();
    const both = await Promise.all([driveMany('city', many, undefined), driveMany('city', many, undefined)]);
    // 315 in two parts; none of the survey's tunnels has such an id.
    expect(done).toHaveLength(2);
    expect(both.map(({ size }) => size)).toEqual([0, 0]);
  });

  it('leave out a tunnel whose design is another one when it is driven', async () => {
    const { store, driveMany } = await create(here);
    await store.swapSurvey(0, { ...city, revision: 1, rules: { ...city.rules, spacingM: 30 } });
    expect((await driveMany('city', designed, undefined)).size).toBe(0);
    // Who asks for them all has them all the same.
    const driven = await createDrives(driveMany).drive('city', designed);
    expect(driven.map(({ failures }) => failures)).toEqual(
      designed.map(({ network, design }) => driveComplex(network, design)),
    );
  });

  it('tell how far they are, and can be cancelled; who asks again has them anew', async () => {
    const begun: DriveTask[] = [];
    let isHeld = true;
    const { jobs, driveMany } = await create((task, report, signal) => {
      begun.push(task);
      report({ stage: 'driving', done: 7, total: TUNNELS });
      if (!isHeld) return here(task, report, signal);
      return new Promise((resolve) =>
        signal.addEventListener('abort', () => resolve(refused(refusal('job-cancelled')))),
      );
    });
    const asked = driveMany('city', designed, undefined);
    const caught = expect(asked).rejects.toMatchObject({ refusal: { code: 'job-cancelled' } });
    const told = async () => measureDrives(await jobs.list(), 'city');
    await expect.poll(told).toEqual({ done: 7, total: TUNNELS });
    for (const { id } of listDrives(await jobs.list(), 'city')) await jobs.cancel(id);
    await caught;
    expect(await told()).toEqual({ done: 0, total: 0 });
    isHeld = false;
    expect((await driveMany('city', designed, undefined)).size).toBe(TUNNELS);
    expect(begun).toHaveLength(2);
  });

  it('that were refused are tried anew when they are asked for anew', async () => {
    let isGood = false;
    const { driveMany } = await create(async (task, report, signal) =>
      isGood ? here(task, report, signal) : refused(refusal('out-of-memory', { name: 'city' })),
    );
    await expect(driveMany('city', designed, undefined)).rejects.toMatchObject({
      refusal: { code: 'out-of-memory' },
    });
    isGood = true;
    expect((await driveMany('city', designed, undefined)).size).toBe(TUNNELS);
  });
});
