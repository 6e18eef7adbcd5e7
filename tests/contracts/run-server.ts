import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

const built = join(import.meta.dirname, '../../dist/server');

/** A server as it is installed, in a process of its own. */
export type RunningServer = {
  readonly url: string;
  readonly process: ChildProcess;
  /** Ends it, and waits until it has ended. */
  stop(signal?: NodeJS.Signals): Promise<void>;
};

/** Starts the built server on a free port and waits until it answers; `env` names at least where it keeps its data. */
export async function runServer(env: Record<string, string>): Promise<RunningServer> {
  const server = spawn(process.execPath, [findBuilt('main.js')], {
    env: { ...process.env, PORT: '0', HOST: '127.0.0.1', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let errors = '';
  server.stderr.on('data', (chunk) => {
    errors += chunk;
  });
  for await (const line of createInterface({ input: server.stdout })) {
    const url = /http:\/\/\S+/.exec(line)?.[0];
    if (url === undefined) continue;
    return {
      url,
      process: server,
      async stop(signal = 'SIGTERM') {
        if (server.exitCode !== null || server.signalCode !== null) return;
        const ended = once(server, 'exit');
        server.kill(signal);
        await ended;
      },
    };
  }
  throw new Error(`the server did not start: ${errors}`);
}

/** A program of the built server, by its file. */
export function findBuilt(name: 'main.js' | 'cli.js'): string {
  const path = join(built, name);
  if (!existsSync(path)) throw new Error(`dist/server/${name} is missing: npm test builds it`);
  return path;
}
