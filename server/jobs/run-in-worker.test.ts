import { join } from 'node:path';
import { expect, it } from 'vitest';
import { runInWorker } from './run-in-worker.ts';

const path = join(import.meta.dirname, '../../data/demo/aldermouth.osm');

it('breaks off what takes too long, in words that name it', async () => {
  const work = { kind: 'import', task: { path, name: 'city.osm' } } as const;
  const never = new AbortController().signal;
  expect(await runInWorker<'import'>(work, () => {}, never, 0.0001)).toEqual({
    ok: false,
    refusal: { code: 'took-too-long', context: { name: 'city.osm', minutes: 0.0001 } },
  });
});
