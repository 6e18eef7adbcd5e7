import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { runDrives } from '../jobs/drive-task.ts';
import { runImport } from '../jobs/import-task.ts';
import { createJobs } from '../jobs/jobs.ts';
import { runRebuild } from '../jobs/rebuild-task.ts';
import { openInMemory } from '../store/open-embedded.ts';
import { createDerivedSurveys } from './derived-surveys.ts';
import { createPerform } from './do-job.ts';
import { createSurveys } from './surveys.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'boremark-imports-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A file with one tunnel of some 390 m whose road says on which side traffic keeps. */
function writePlace(drivingSide: string | undefined): { path: string; name: string } {
  const name = `${drivingSide ?? 'unknown'}.json`;
  const side = drivingSide === undefined ? {} : { driving_side: drivingSide };
  const elements = [
    { type: 'node', id: 1, lat: 46, lon: -20 },
    { type: 'node', id: 2, lat: 46, lon: -19.995 },
    { type: 'way', id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes', ...side } },
  ];
  writeFileSync(join(folder, name), JSON.stringify({ version: 0.6, generator: 'test', elements }));
  return { path: join(folder, name), name };
}

async function create() {
  const store = await openInMemory();
  const bugs: unknown[] = [];
  const overpass = { ask: async () => refused(refusal('overpass-busy')) };
  const perform = createPerform({
    store,
    overpass,
    runImport,
    runDrives: async (task) => runDrives(task, () => {}),
  });
  const jobs = createJobs({ store, perform, count: 1, onBug: (error) => bugs.push(error) });
  const surveys = createSurveys({
    store,
    derived: createDerivedSurveys(store),
    edition: 'test',
    jobs,
    now: () => new Date('2026-01-01T00:00:00Z'),
    runImport,
    runRebuild,
    runCompare: async () => refused(refusal('input-empty')),
  });
  return { store, surveys, bugs };
}

it.each([
  [undefined, DEFAULT_RULES.drivingSide],
  ['left', 'left'],
  ['right', 'right'],
])('a new survey takes the side that traffic keeps to from its roads: %s', async (drawn, drivingSide) => {
  const { store, surveys } = await create();
  const { id } = await surveys.startUpload(writePlace(drawn), 'place');
  await surveys.settled(id);
  expect((await store.findSurvey(id))?.rules).toEqual({ ...DEFAULT_RULES, drivingSide });
});

it('a newer extract leaves a survey’s rules alone', async () => {
  const { store, surveys } = await create();
  const { id } = await surveys.startUpload(writePlace('left'), 'place');
  await surveys.settled(id);
  const job = await surveys.startCandidate(id, writePlace('right'));
  if (!job.ok) throw new Error(job.refusal.code);
  await surveys.settled(job.value.id);
  const survey = await store.findSurvey(id);
  const extractId = survey?.candidate?.extractId ?? '';
  const command = { kind: 'adoptExtract', commandId: 'adopt-00001', extractId } as const;
  expect(await surveys.revise(id, { baseRevision: survey?.revision ?? 0, command })).toMatchObject({
    ok: true,
  });
  const adopted = await store.findSurvey(id);
  expect(adopted?.network.drivingSide).toBe('right');
  expect(adopted?.rules.drivingSide).toBe('left');
});
