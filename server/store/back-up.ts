import { copyFileSync, existsSync, mkdtempSync, renameSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import type { Kysely } from 'kysely';
import Database from 'libsql';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { copyStore } from './copy-store.ts';
import { openDatabase } from './open-database.ts';
import { type OpenDatabase, openFile, toStoreFile } from './open-embedded.ts';
import { announce } from './open-postgres.ts';
import type { StoreSettings } from './open-store.ts';
import type { Tables } from './tables.ts';

/**
 * Writes everything that the store holds to a new file, as it stands at one moment; servers go on meanwhile. The file
 * is there as a whole or not at all. Refused: `file-not-writable`, also where there is such a file already,
 * `store-missing`, and as the store is opened.
 */
export async function backUp(settings: StoreSettings, file: string): Promise<Result<{ bytes: number }>> {
  const path = resolve(file);
  const notWritable = (reason: string) => refused(refusal('file-not-writable', { name: file, reason }));
  if (existsSync(path)) return notWritable('there is such a file already');
  const { databaseUrl, dataFolder: folder } = settings;
  if (databaseUrl === undefined && !existsSync(toStoreFile(folder))) {
    return refused(refusal('store-missing', { folder }));
  }
  const source = await openDatabase(settings);
  if (!source.ok) return source;
  let part: string | undefined;
  try {
    // Beside the file, so that it can be moved into its place at once.
    part = mkdtempSync(join(dirname(path), '.boremark-'));
    const target = await openFile(join(part, 'backup'));
    if (!target.ok) return target;
    await copyStore(source.value.db, target.value.db);
    await target.value.close();
    renameSync(join(part, 'backup'), path);
    return done({ bytes: statSync(path).size });
  } catch (error) {
    return notWritable((error as Error).message);
  } finally {
    await source.value.close();
    if (part !== undefined) rmSync(part, { recursive: true, force: true });
  }
}

/**
 * Lets a backup take the place of everything in the store: all of it or nothing; servers that run read anew. Refused:
 * `backup-unusable`, `store-not-empty` where people's work would be lost and `replace` is not set, and as the store is
 * opened.
 */
export async function restore(
  settings: StoreSettings,
  file: string,
  { replace }: { readonly replace: boolean },
): Promise<Result<{ surveys: number }>> {
  const folder = mkdtempSync(join(tmpdir(), 'boremark-restore-'));
  const opened: OpenDatabase[] = [];
  try {
    const source = await openBackup(file, join(folder, 'backup'));
    if (!source.ok) return source;
    opened.push(source.value);
    const target = await openDatabase(settings);
    if (!target.ok) return target;
    opened.push(target.value);
    if (!replace && (await hasWork(target.value.db))) return refused(refusal('store-not-empty'));
    await copyStore(source.value.db, target.value.db);
    if (settings.databaseUrl !== undefined) await announce(target.value.db, {});
    const surveys = await source.value.db.selectFrom('surveys').select('id').execute();
    return done({ surveys: surveys.length });
  } finally {
    for (const { close } of opened) await close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Opens a copy of a backup, which may be of an earlier version; the file itself stays as it is. */
async function openBackup(file: string, copy: string): Promise<Result<OpenDatabase>> {
  const unusable = (reason: string) => refused(refusal('backup-unusable', { name: file, reason }));
  try {
    copyFileSync(file, copy);
    const database = new Database(copy);
    try {
      const found = database.prepare("select 1 from sqlite_master where name = 'surveys'").all();
      if (found.length === 0) return unusable('it is no backup of a Boremark store');
      const [{ integrity_check: state }] = database.prepare('pragma integrity_check').all() as [Check];
      if (state !== 'ok') return unusable(`it is damaged (${state})`);
    } finally {
      database.close();
    }
    return await openFile(copy);
  } catch (error) {
    return unusable((error as Error).message);
  }
}

type Check = { readonly integrity_check: string };

/** Whether a store holds more than the demo as it was read first. */
async function hasWork(db: Kysely<Tables>): Promise<boolean> {
  const heads = await db.selectFrom('surveys').select('head').execute();
  const edits = await db.selectFrom('commands').select('command_id').limit(1).execute();
  const accounts = await db.selectFrom('accounts').select('id').limit(1).execute();
  return (
    edits.length > 0 ||
    accounts.length > 0 ||
    heads.some(({ head }) => !(JSON.parse(head) as { demo: boolean }).demo)
  );
}
