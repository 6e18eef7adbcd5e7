import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serve } from '@hono/node-server';
import { pino } from 'pino';
import { describeRefusal } from '../shared/outcome/words.ts';
import { openLogin } from './accounts/open-login.ts';
import { createApp } from './app.ts';
import { openOverpass } from './extracts/open-overpass.ts';
import { findProjectRoot } from './project-root.ts';
import { readSettings } from './read-settings.ts';
import { seedDemo } from './seed-demo.ts';
import { openStore } from './store/open-store.ts';

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
  const now = () => new Date();
  const store = await openStore(settings, now, (error) =>
    log.warn({ err: error }, 'database connection lost'),
  );
  if (!store.ok) {
    process.stderr.write(`boremark: ${describeRefusal(store.refusal)}\n`);
    process.exitCode = 1;
    return;
  }
  const webRoot = join(root, 'dist/web');
  const login = settings.auth === 'accounts' ? await openLogin(store.value, settings, now) : undefined;
  const stopping = new AbortController();
  const { app, surveys, jobs } = createApp({
    store: store.value,
    overpass: openOverpass(settings),
    log,
    ...(existsSync(webRoot) ? { webRoot } : {}),
    ...(basemapStyleUrl === undefined ? {} : { basemapStyleUrl }),
    uploadLimitBytes: 1e9,
    version: (JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }).version,
    now,
    names: [new URL(settings.publicUrl).hostname],
    ...(login === undefined ? {} : { login }),
    stopping: stopping.signal,
    jobCount: settings.jobCount,
  });
  // Pages that were open before send their edits at once: the demo has to be there to take them.
  await seedDemo(surveys, root);
  const server = serve({ fetch: app.fetch, hostname: host, port }, (info) => {
    process.stdout.write(
      `Boremark is ready at http://${host.includes(':') ? `[${host}]` : host}:${info.port}\n`,
    );
  });
  // A gigabyte over a slow line; the headers alone have a minute, by Node's default.
  if ('requestTimeout' in server) server.requestTimeout = UPLOAD_MS;
  server.on('error', (error: NodeJS.ErrnoException) => {
    const reason =
      error.code === 'EADDRINUSE'
        ? `port ${port} is taken; stop the other program or set PORT to another number`
        : error.message;
    process.stderr.write(`boremark: cannot serve: ${reason}\n`);
    process.exit(1);
  });
  const stop = () => {
    if (stopping.signal.aborted) process.exit(1);
    stopping.abort();
    const gaveBack = jobs.stop();
    if (!('closeIdleConnections' in server)) return process.exit(0);
    // Requests that are being answered are finished; those that take too long are cut.
    const idle = setInterval(() => server.closeIdleConnections(), 50);
    const cut = setTimeout(() => server.closeAllConnections(), GRACE_MS);
    server.close(() => {
      clearInterval(idle);
      clearTimeout(cut);
      void gaveBack.then(() => store.value.close()).finally(() => process.exit(0));
    });
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
}

/** Longest that a request may take to come in. */
const UPLOAD_MS = 15 * 60_000;
/** How long requests have to end after the server was told to stop; whoever tells it twice does not wait. */
const GRACE_MS = 3000;
