import { execFileSync } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';

/** A PostgreSQL server of our own in a temporary folder, reached by a socket in that folder alone. */
export type OwnPostgres = {
  /** For a client: a database of that name, which has to be there. */
  url(database: string): string;
  /** Runs SQL by psql, by default in the database `postgres`; stops at the first error, which is thrown. */
  ask(sql: string, database?: string): string;
  stop(): void;
};

export type PostgresOptions = {
  /** Whether an installed PostgreSQL will do, by the folder of its programs. */
  readonly isGood?: (folder: string) => boolean;
  /** Passed to the server. */
  readonly settings?: readonly string[];
};

const DEBIAN = '/usr/lib/postgresql';
const USER = 'boremark';

/**
 * Starts the server, for as long as this process lives or until it is stopped; undefined where no PostgreSQL that
 * will do is installed, or none that this user may start.
 */
export function startPostgres({
  isGood = () => true,
  settings = [],
}: PostgresOptions): OwnPostgres | undefined {
  const bin = findPrograms(isGood);
  const user = findUser();
  if (bin === undefined || user === undefined) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'boremark-postgres-'));
  if (user.uid !== undefined) chownSync(folder, user.uid, user.gid ?? user.uid);
  const data = join(folder, 'data');
  const run = (program: string, args: readonly string[], input?: string) =>
    execFileSync(join(bin, program), args, {
      ...user,
      cwd: folder,
      encoding: 'utf8',
      maxBuffer: 2 ** 28,
      stdio: ['pipe', 'pipe', 'pipe'],
      ...(input === undefined ? {} : { input }),
    });
  const control = (...args: readonly string[]) => run('pg_ctl', ['-D', data, '-w', ...args]);
  const stop = () => {
    if (existsSync(join(data, 'postmaster.pid'))) control('-m', 'immediate', 'stop');
    rmSync(folder, { recursive: true, force: true });
  };
  process.once('exit', stop);
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => process.exit(1));
  run('initdb', ['-D', data, '-A', 'trust', '-U', USER, '-E', 'UTF8', '--no-locale', '--no-sync']);
  const all = ['listen_addresses=', `unix_socket_directories=${folder}`, ...settings];
  // Into a file: a pipe that the server inherits would never end.
  control('-l', join(folder, 'log'), '-o', all.map((setting) => `-c ${setting}`).join(' '), 'start');
  return {
    url: (database) => `postgres://${USER}@/${database}?host=${encodeURIComponent(folder)}`,
    ask: (sql, database = 'postgres') =>
      run('psql', ['-X', '-qAt', '-v', 'ON_ERROR_STOP=1', '-h', folder, '-U', USER, database], sql).trim(),
    stop,
  };
}

/** The folder of the programs: the newest of Debian's, else the one on the path. */
function findPrograms(isGood: (folder: string) => boolean): string | undefined {
  const debian = existsSync(DEBIAN) ? readdirSync(DEBIAN).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = [
    ...debian.map((version) => join(DEBIAN, version, 'bin')),
    ...(process.env.PATH ?? '').split(delimiter),
  ];
  return folders.find(
    (folder) =>
      ['initdb', 'pg_ctl', 'psql'].every((program) => existsSync(join(folder, program))) && isGood(folder),
  );
}

/** Who runs the server: this user, or `postgres` where this is root, whom PostgreSQL refuses. */
function findUser(): { readonly uid?: number; readonly gid?: number } | undefined {
  if (process.getuid?.() !== 0) return {};
  try {
    const [uid, gid] = ['-u', '-g'].map((which) =>
      Number(
        execFileSync('id', [which, 'postgres'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }),
      ),
    );
    return uid === undefined || gid === undefined ? undefined : { uid, gid };
  } catch {
    return undefined;
  }
}
