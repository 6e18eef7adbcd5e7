import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Settings } from '../read-settings.ts';
import { createOverpassClient, type OverpassClient, USER_AGENT } from './overpass-client.ts';

/** Public Overpass servers, asked in this order where OVERPASS_URL names none. */
const OVERPASS_URLS = [
  'https://overpass-api.de/api/interpreter',
  'https://overpass.private.coffee/api/interpreter',
];

/** The map servers that the settings name; answers are kept in the data folder. */
export function openOverpass({
  overpassUrls,
  dataFolder,
}: Pick<Settings, 'overpassUrls' | 'dataFolder'>): OverpassClient {
  return createOverpassClient({
    urls: overpassUrls ?? OVERPASS_URLS,
    userAgent: USER_AGENT,
    timeoutMs: 180_000,
    maxBytes: 100e6,
    retries: 3,
    cacheFolder: join(dataFolder, 'overpass'),
    now: Date.now,
    sleep: (durationMs, signal) => sleep(durationMs, undefined, { signal }),
  });
}
