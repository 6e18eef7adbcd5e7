import type { Result } from '../../shared/outcome/result.ts';
import { openEmbedded } from './open-embedded.ts';
import { openPostgres } from './open-postgres.ts';
import type { Store } from './store.ts';

export type StoreSettings = {
  /** Of a PostgreSQL database; without it the store is a file in `dataFolder`. */
  readonly databaseUrl: string | undefined;
  readonly dataFolder: string;
};

/** Opens the store that the settings name; refused as openEmbedded and openPostgres. */
export function openStore(
  { databaseUrl, dataFolder }: StoreSettings,
  now: () => Date,
  onError: (error: Error) => void,
): Promise<Result<Store>> {
  return databaseUrl === undefined ? openEmbedded(dataFolder, now) : openPostgres(databaseUrl, now, onError);
}
