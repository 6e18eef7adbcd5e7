import { existsSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { serve } from '@hono/node-server';
import { pino } from 'pino';
import { createApp } from './app.ts';
import { createOverpassClient, USER_AGENT } from './extracts/overpass-client.ts';
import { findProjectRoot } from './project-root.ts';
import { readSettings } from './read-settings.ts';
import { createMemoryStore } from './store/memory-store.ts';

/** Public Overpass servers, asked in this order where OVERPASS_URL names none. */
const OVERPASS_URLS = [
  'https://overpass-api.de/api/interpreter',
  'https://overpass.private.coffee/api/interpreter',
];

/** The demo city's survey keeps its id from start to start, so that links to it stay good. */
const DEMO = {
  id: 'aldermouth',
  name: 'Aldermouth (demo)',
  file: 'data/demo/aldermouth.osm',
  evidence: { traffic: 'data/demo/aldermouth-traffic.csv', existing: 'data/demo/aldermouth-beacons.csv' },
} as const;

/** Serves the web app and the API until the process is told to stop. The only place that reads the environment. */
export async function serveBoremark(env: NodeJS.ProcessEnv = process.env): Promise<void> {
  const root = findProjectRoot(dirname(fileURLToPath(import.meta.url)));
  const settings = readSettings(env);
  if (typeof settings === 'string') {
    process.stderr.write(`boremark: ${settings}\n`);
    process.exitCode = 2;
    return;
  }
  const { host, port, basemapStyleUrl } = settings;
  const log = pino({ level: settings.logLevel });
  const webRoot = join(root, 'dist/web');
  const { app, surveys } = createApp({
    store: createMemoryStore(),
    overpass: createOverpassClient({
      urls: settings.overpassUrls ?? OVERPASS_URLS,
      userAgent: USER_AGENT,
      timeoutMs: 180_000,
      maxBytes: 100e6,
      retries: 3,
      cacheFolder: join(settings.dataFolder, 'overpass'),
      now: Date.now,
      sleep: (durationMs, signal) => sleep(durationMs, undefined, { signal }),
    }),
    log,
    ...(existsSync(webRoot) ? { webRoot } : {}),
    ...(basemapStyleUrl === undefined ? {} : { basemapStyleUrl }),
    uploadLimitBytes: 1e9,
    version: (JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }).version,
    now: () => new Date(),
  });
  surveys.startUpload({ path: join(root, DEMO.file), name: 'aldermouth.osm', keepFile: true }, DEMO.name, {
    demo: true,
    id: DEMO.id,
  });
  // Pages that were open before a restart send their edits at once: the demo has to be there to take them.
  await surveys.settled(DEMO.id);
  for (const kind of ['traffic', 'existing'] as const) {
    const path = join(root, DEMO.evidence[kind]);
    await surveys.bringEvidence(DEMO.id, kind, { name: basename(path), bytes: readFileSync(path) });
  }
  const server = serve({ fetch: app.fetch, hostname: host, port }, (info) => {
    process.stdout.write(
      `Boremark is ready at http://${host.includes(':') ? `[${host}]` : host}:${info.port}\n`,
    );
  });
  server.on('error', (error: NodeJS.ErrnoException) => {
    const reason =
      error.code === 'EADDRINUSE'
        ? `port ${port} is taken; stop the other program or set PORT to another number`
        : error.message;
    process.stderr.write(`boremark: cannot serve: ${reason}\n`);
    process.exit(1);
  });
  const stop = () => {
    server.close();
    // Open event streams would keep the process alive.
    setTimeout(() => process.exit(0), 200).unref();
    if ('closeAllConnections' in server) server.closeAllConnections();
  };
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
}
