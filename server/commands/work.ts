import { once } from 'node:events';
import { pino } from 'pino';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { openOverpass } from '../extracts/open-overpass.ts';
import { readSettings } from '../read-settings.ts';
import { startJobs } from '../start-jobs.ts';
import { openStore } from '../store/open-store.ts';

/**
 * Does the jobs of the servers on the database that the environment names until it is told to stop; what it is at then
 * is done by another one. Refused: `settings-unusable`, also without a database, and as the store is opened.
 */
export async function runWorker(env: NodeJS.ProcessEnv = process.env): Promise<Result<null>> {
  const unusable = (reason: string) => refused(refusal('settings-unusable', { reason }));
  const settings = readSettings(env);
  if (typeof settings === 'string') return unusable(settings);
  if (settings.databaseUrl === undefined) {
    return unusable(
      'A worker needs DATABASE_URL, the database of the servers that it works for; without one the server does its own jobs',
    );
  }
  const { jobCount } = settings;
  if (jobCount === 0) return unusable('BOREMARK_JOBS must be at least 1 for a worker');
  const log = pino({ level: settings.logLevel });
  const store = await openStore(
    settings,
    () => new Date(),
    (error) => log.warn({ err: error }, 'database connection lost'),
  );
  if (!store.ok) return store;
  const jobs = startJobs({ store: store.value, overpass: openOverpass(settings), log, jobCount });
  process.stdout.write(`Boremark works: ${jobCount} ${jobCount === 1 ? 'job' : 'jobs'} at once\n`);
  await Promise.race([once(process, 'SIGTERM'), once(process, 'SIGINT')]);
  await jobs.stop();
  await store.value.close();
  return done(null);
}
