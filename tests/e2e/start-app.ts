import { type ChildProcess, spawn } from 'node:child_process';
import { accessSync, constants, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type Page, chromium as playwright } from 'playwright-core';

const root = join(import.meta.dirname, '../..');

/** The browser to test with: CHROMIUM_PATH, else one that is installed; undefined where there is none. */
function findChromium(): string | undefined {
  const candidates = [
    process.env.CHROMIUM_PATH,
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    playwrightsOwn(),
  ];
  return candidates.find((path) => path !== undefined && isExecutable(path));
}

/** Its path, for the tests; in CI there has to be one, elsewhere its absence is said. */
export const chromium = findChromium();
if (chromium === undefined) {
  if (process.env.CI)
    throw new Error('CI must have a Chromium (set CHROMIUM_PATH or install Debian’s chromium)');
  console.warn('No Chromium was found: the browser tests are skipped. Install one or set CHROMIUM_PATH.');
}

function playwrightsOwn(): string | undefined {
  const path = playwright.executablePath();
  return path !== '' && existsSync(path) ? path : undefined;
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

export type RunningApp = {
  readonly url: string;
  readonly browser: Browser;
  stop(): Promise<void>;
};

/** Starts the built server on a free port with a folder of its own, and a browser. */
export async function startApp(executablePath: string): Promise<RunningApp> {
  const main = join(root, 'dist/server/main.js');
  if (!existsSync(main))
    throw new Error('dist/server/main.js is missing: npm test builds it, npx vitest alone does not');
  const data = mkdtempSync(join(tmpdir(), 'boremark-e2e-'));
  const server = spawn(process.execPath, [main], {
    env: {
      ...process.env,
      PORT: '0',
      HOST: '127.0.0.1',
      BOREMARK_DATA: data,
      OVERPASS_URL: 'http://127.0.0.1:9/',
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const url = await readUrl(server);
  await waitForDemo(url);
  const browser = await playwright.launch({
    executablePath,
    headless: true,
    args: [
      '--no-sandbox',
      '--use-gl=angle',
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
    ],
  });
  return {
    url,
    browser,
    async stop() {
      await browser.close();
      server.kill('SIGTERM');
      await new Promise((resolve) => server.once('exit', resolve));
      rmSync(data, { recursive: true, force: true });
    },
  };
}

function readUrl(server: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    server.stdout?.on('data', (chunk: Buffer) => {
      text += chunk;
      const url = /ready at (http:\S+)/.exec(text)?.[1];
      if (url !== undefined) resolve(url);
    });
    server.once('exit', (code) => reject(new Error(`the server stopped (code ${code}) before it was ready`)));
  });
}

/** The demo city is imported after the server answers; the tests want it there. */
async function waitForDemo(url: string): Promise<void> {
  for (let i = 0; i < 300; i += 1) {
    const { status } = (await (await fetch(`${url}/api/surveys/aldermouth`)).json()) as { status?: string };
    if (status === 'ready') return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error('the demo city was not imported within 30 s');
}

/** Console errors, page errors and CSP violations of a page, as they come. */
export function watchFaults(page: Page): readonly string[] {
  const faults: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  page.on('pageerror', (error) => faults.push(String(error)));
  return faults;
}
