import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
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

export type Credentials = { readonly email: string; readonly password: string };

export type AppOptions = {
  /** With login: the one account that there is belongs to an administrator. */
  readonly hasAccounts?: boolean;
  /** The map server that it asks; by default there is none. */
  readonly mapServer?: string;
};

export type RunningApp = {
  readonly url: string;
  readonly browser: Browser;
  /** Whoever may do everything, where the server has accounts. */
  readonly administrator: Credentials | undefined;
  stop(): Promise<void>;
};

/** Starts the built server on a free port with a folder of its own, and a browser. */
export async function startApp(
  executablePath: string,
  { hasAccounts = false, mapServer = 'http://127.0.0.1:9/' }: AppOptions = {},
): Promise<RunningApp> {
  const main = join(root, 'dist/server/main.js');
  if (!existsSync(main))
    throw new Error('dist/server/main.js is missing: npm test builds it, npx vitest alone does not');
  const data = mkdtempSync(join(tmpdir(), 'boremark-e2e-'));
  const env = {
    ...process.env,
    PORT: '0',
    HOST: '127.0.0.1',
    BOREMARK_DATA: data,
    OVERPASS_URL: mapServer,
    ...(hasAccounts ? { BOREMARK_AUTH: 'accounts' } : {}),
  };
  const administrator = hasAccounts ? addAdministrator(env) : undefined;
  const server = spawn(process.execPath, [main], {
    env,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const url = await readUrl(server);
  await waitForDemo(url, administrator === undefined ? {} : { cookie: await signIn(url, administrator) });
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
    administrator,
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

/** The first account has to come from the command line; its password is the last line that is told. */
function addAdministrator(env: NodeJS.ProcessEnv): Credentials {
  const email = 'admin@example.org';
  const cli = join(root, 'dist/server/cli.js');
  const given = ['account', 'add', email, '--name', 'Admin', '--role', 'administrator'];
  const told = execFileSync(process.execPath, [cli, ...given], { env, encoding: 'utf8' });
  const password = told.trim().split('\n').at(-1)?.trim();
  if (password === undefined || password === '') throw new Error('no password was told');
  return { email, password };
}

/** Signs in without a browser; gives the cookie. */
export async function signIn(url: string, { email, password }: Credentials): Promise<string> {
  const response = await fetch(`${url}/api/session`, {
    method: 'POST',
    body: JSON.stringify({ email, password }),
    headers: { 'content-type': 'application/json' },
  });
  const cookie = response.headers.getSetCookie().map((one) => one.split(';')[0]);
  if (!response.ok || cookie.length === 0) throw new Error(`not signed in: ${await response.text()}`);
  return cookie.join('; ');
}

/** The demo city is imported after the server answers; the tests want it there. */
async function waitForDemo(url: string, headers: Record<string, string>): Promise<void> {
  for (let i = 0; i < 300; i += 1) {
    const { status } = (await (await fetch(`${url}/api/surveys/aldermouth`, { headers })).json()) as {
      status?: string;
    };
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
