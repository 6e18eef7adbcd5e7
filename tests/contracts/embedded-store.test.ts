import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, describe, expect, it } from 'vitest';
import { findStoreFault } from '../../server/store/find-store-fault.ts';
import { openEmbedded } from '../../server/store/open-embedded.ts';
import type { Store } from '../../server/store/store.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';

const root = mkdtempSync(join(tmpdir(), 'boremark-embedded-'));
const mounted: string[] = [];
afterAll(() => {
  for (const folder of mounted) execFileSync('umount', ['-l', folder]);
  rmSync(root, { recursive: true, force: true });
});

const now = () => new Date('2026-03-01T00:00:00.000Z');
async function open(folder: string): Promise<Store> {
  const opened = await openEmbedded(folder, now);
  if (!opened.ok) throw new Error(JSON.stringify(opened.refusal));
  return opened.value;
}
async function refuse(folder: string) {
  const opened = await openEmbedded(folder, now);
  if (opened.ok) {
    await opened.value.close();
    return 'opened';
  }
  return opened.refusal.code;
}
const save = (store: Store, id: string, extract: Uint8Array) =>
  store.saveSurvey(
    {
      id,
      name: id,
      demo: false,
      createdAt: '2026-01-01T00:00:00.000Z',
      revision: 0,
      rules: DEFAULT_RULES,
      source: { format: 'osm-xml', name: 'a.osm' },
      extractId: `extract-${id}`,
      log: [],
      evidence: {},
      ways: 1,
      tunnelWays: 1,
      network: { links: [], complexes: [] },
      findings: [],
      contextGzip: new Uint8Array(),
    },
    extract,
  );

/** A disk of its own; undefined where this user may not mount one. */
function mountDisk(name: string, megabytes: number): string | undefined {
  const folder = join(root, name);
  mkdirSync(folder);
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder], { stdio: 'ignore' });
  } catch {
    return undefined;
  }
  mounted.push(folder);
  return folder;
}

describe('the store in a folder', () => {
  it('is had by one server at a time', async () => {
    const folder = join(root, 'one');
    const first = await open(folder);
    expect(statSync(folder).mode & 0o077).toBe(0);
    expect(await refuse(folder)).toBe('store-in-use');
    await first.close();
    expect(await refuse(folder)).toBe('opened');
  });

  it('is refused where the folder is a file, or the data are no store, and nothing is changed', async () => {
    const file = join(root, 'file');
    writeFileSync(file, 'mine');
    expect(await refuse(file)).toBe('store-unusable');
    expect(readFileSync(file, 'utf8')).toBe('mine');
    const folder = join(root, 'other');
    mkdirSync(folder);
    writeFileSync(join(folder, 'boremark.db'), 'no database at all, but something of mine');
    expect(await refuse(folder)).toBe('store-unusable');
    expect(readFileSync(join(folder, 'boremark.db'), 'utf8')).toBe(
      'no database at all, but something of mine',
    );
  });

  it('is refused where a newer version has written it, and nothing is changed', async () => {
    const folder = join(root, 'newer');
    await (await open(folder)).close();
    const database = new Database(join(folder, 'boremark.db'));
    database.exec("insert into kysely_migration (name, timestamp) values ('9999-later', '2030-01-01')");
    database.close();
    const before = readFileSync(join(folder, 'boremark.db'));
    expect(await refuse(folder)).toBe('store-newer');
    expect(readFileSync(join(folder, 'boremark.db'))).toEqual(before);
  });

  it('on a disk that is full refuses, damages nothing, and goes on when there is room', async ({ skip }) => {
    const folder = mountDisk('full', 2);
    if (folder === undefined) return skip('a disk of its own cannot be mounted here: run the tests as root');
    const store = await open(folder);
    await save(store, 'first', new Uint8Array(100_000));
    // Random bytes cannot be packed.
    const large = crypto.getRandomValues(new Uint8Array(65_536));
    const tooMuch = new Uint8Array(4_000_000).map((_, i) => large[i % large.length] as number);
    const fault = await save(store, 'second', tooMuch).then(
      () => 'saved',
      (error: unknown) => findStoreFault(error)?.code,
    );
    expect(fault).toBe('store-full');
    expect((await store.listSurveys()).map(({ id }) => id)).toEqual(['first']);
    await save(store, 'third', new Uint8Array(100_000));
    await store.close();
    const again = await open(folder);
    expect((await again.listSurveys()).map(({ id }) => id)).toEqual(['first', 'third']);
    await again.close();
  });

  it('on a disk that cannot be written is refused', async ({ skip }) => {
    const folder = mountDisk('fixed', 4);
    if (folder === undefined) return skip('a disk of its own cannot be mounted here: run the tests as root');
    execFileSync('mount', ['-o', 'remount,ro', folder]);
    expect(await refuse(folder)).toBe('store-unusable');
    execFileSync('mount', ['-o', 'remount,rw', folder]);
    expect(await refuse(folder)).toBe('opened');
  });
});
