import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Surveys } from './surveys/surveys.ts';

/** The demo city's survey has one id everywhere, so that links to it stay good. */
const DEMO = { id: 'aldermouth', name: 'Aldermouth (demo)', file: 'data/demo/aldermouth.osm' };
const EVIDENCE = {
  traffic: 'data/demo/aldermouth-traffic.csv',
  existing: 'data/demo/aldermouth-beacons.csv',
} as const;

/** Reads the demo city from the program's own folder `root`, with its counts and beacons, where it is not kept yet. */
export async function seedDemo(surveys: Surveys, root: string): Promise<void> {
  const kept = await surveys.view(DEMO.id);
  if (kept.ok) return;
  const path = join(root, DEMO.file);
  const read = await surveys.readOwn({ path, name: basename(path) }, { ...DEMO, demo: true });
  if (!read.ok) return;
  for (const kind of ['traffic', 'existing'] as const) {
    const file = join(root, EVIDENCE[kind]);
    await surveys.bringEvidence(DEMO.id, kind, { name: basename(file), bytes: readFileSync(file) });
  }
}
