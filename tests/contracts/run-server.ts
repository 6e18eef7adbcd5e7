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
  const args = [findBuilt('main.js')];
  const { line, ...running } = await run(args, { PORT: '0', HOST: '127.0.0.1', ...env }, /http:\/\/\S+/);
  return { url: line, ...running };
}

/** Starts a worker of the built program and waits until it says that it works. */
export async function runWorker(env: Record<string, string>): Promise<Omit<RunningServer, 'url'>> {
  return run([findBuilt('cli.js'), 'worker'], env, /^Boremark works/);
}

/** Starts a program and waits for a line that it says. */
async function run(args: readonly string[], env: Record<string, string>, said: RegExp) {
  const program = spawn(process.execPath, args, {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let errors = '';
  program.stderr.on('data', (chunk) => {
    errors += chunk;
  });
  for await (const text of createInterface({ input: program.stdout })) {
    const line = said.exec(text)?.[0];
    if (line === undefined) continue;
    return {
      line,
      process: program,
      async stop(signal: NodeJS.Signals = 'SIGTERM') {
        if (program.exitCode !== null || program.signalCode !== null) return;
        const ended = once(program, 'exit');
        program.kill(signal);
        await ended;
      },
    };
  }
  throw new Error(`it did not start: ${errors}`);
}

/** A program of the built server, by its file. */
export function findBuilt(name: 'main.js' | 'cli.js'): string {
  const path = join(built, name);
  if (!existsSync(path)) throw new Error(`dist/server/${name} is missing: npm test builds it`);
  return path;
}
