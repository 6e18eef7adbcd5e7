import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { openEmbedded } from '../../server/store/open-embedded.ts';
import { openPostgres } from '../../server/store/open-postgres.ts';
import type { Store } from '../../server/store/store.ts';
import { startPostgres } from './start-postgres.ts';

/** A way to open one and the same store again. */
export type Open = () => Promise<Store>;

/**
 * Every store that a contract is held against, by name, each with what makes a new, empty one: the embedded one, and
 * PostgreSQL where it is installed, as it has to be in CI. They go when the tests of the file have run.
 */
export function listStores(now: () => Date): readonly (readonly [string, () => Open])[] {
  const folder = mkdtempSync(join(tmpdir(), 'boremark-store-'));
  const postgres = startPostgres({ settings: ['fsync=off'] });
  if (postgres === undefined) {
    if (process.env.CI) throw new Error('CI must have a PostgreSQL (install Debian’s postgresql)');
    console.warn('No PostgreSQL was found: the store is tested without it. Install one to test both.');
  }
  afterAll(() => {
    postgres?.stop();
    rmSync(folder, { recursive: true, force: true });
  });
  let count = 0;
  const embedded = () => {
    count += 1;
    const own = join(folder, `store-${count}`);
    return async () => unwrap(await openEmbedded(own, now));
  };
  if (postgres === undefined) return [['embedded', embedded]];
  const shared = () => {
    count += 1;
    const name = `store_${count}`;
    postgres.ask(`CREATE DATABASE ${name}`);
    return async () => unwrap(await openPostgres(postgres.url(name), now, () => {}));
  };
  return [
    ['embedded', embedded],
    ['PostgreSQL', shared],
  ];
}

function unwrap(opened: Awaited<ReturnType<typeof openEmbedded>>): Store {
  if (!opened.ok) throw new Error(JSON.stringify(opened.refusal));
  return opened.value;
}
