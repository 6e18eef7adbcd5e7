import { mkdirSync } from 'node:fs';
import { refusal } from '../../shared/outcome/refusal.ts';
import { type Result, refused } from '../../shared/outcome/result.ts';
import { type OpenDatabase, openFile, toStoreFile } from './open-embedded.ts';
import { openPostgresDatabase } from './open-postgres.ts';
import type { StoreSettings } from './open-store.ts';

/**
 * Opens the database of the store that the settings name for a short piece of work, also while a server runs: without
 * the lock of a server, SQLite keeps the two apart. Refused as openEmbedded and openPostgresDatabase.
 */
export async function openDatabase({
  databaseUrl,
  dataFolder: folder,
}: StoreSettings): Promise<Result<OpenDatabase>> {
  if (databaseUrl !== undefined) return openPostgresDatabase(databaseUrl, () => {});
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    return await openFile(toStoreFile(folder));
  } catch (error) {
    return refused(refusal('store-unusable', { folder, reason: (error as Error).message }));
  }
}
