import { execFileSync } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';

export const SPACING_M = 40;

/** A PostgreSQL server of the bench's own, with PostGIS. */
export type Postgis = {
  readonly version: string;
  /** Puts the lines into a table; returns how many beacons the query places on them, and how long they are. */
  load(lines: readonly (readonly LonLat[])[]): { readonly beacons: number; readonly lengthM: number };
  /** Runs the query once; the server's own time in milliseconds. */
  timeMs(): number;
};

const DEBIAN = '/usr/lib/postgresql';

/**
 * Length on the ellipsoid, then equal intervals of at most the spacing, in the plane of degrees: what `makeRuler` and
 * `pointAt` do. `OFFSET 0` keeps the length from being reckoned more than once a line.
 */
const QUERY = `
  SELECT sum(ST_NumGeometries(ST_LineInterpolatePoints(geom, 1 / intervals, true))), sum(length_m)
  FROM (
    SELECT geom, length_m, ceil(length_m / ${SPACING_M}) AS intervals
    FROM (SELECT geom, ST_Length(geom::geography) AS length_m FROM lines OFFSET 0) AS measured OFFSET 0
  ) AS divided`;

/** One process, as ours; nothing of a short query's compiling. */
const SETTINGS = 'SET max_parallel_workers_per_gather = 0; SET jit = off;';

/**
 * Starts a private server in a temporary folder, reached by a socket in that folder alone, for as long as this process
 * lives; undefined where no PostgreSQL with PostGIS is installed, or none that this user may start.
 */
export function startPostgis(): Postgis | undefined {
  const bin = findPrograms();
  const user = findUser();
  if (bin === undefined || user === undefined) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'boremark-postgis-'));
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
  process.once('exit', () => {
    if (existsSync(join(data, 'postmaster.pid'))) control('-m', 'immediate', 'stop');
    rmSync(folder, { recursive: true, force: true });
  });
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => process.exit(1));
  run('initdb', ['-D', data, '-A', 'trust', '-U', 'bench', '-E', 'UTF8', '--no-locale', '--no-sync']);
  const options = `-c listen_addresses= -c unix_socket_directories=${folder} -c fsync=off -c shared_buffers=256MB`;
  // Into a file: a pipe that the server inherits would never end.
  control('-l', join(folder, 'log'), '-o', options, 'start');
  const ask = (sql: string) =>
    run('psql', ['-X', '-qAt', '-v', 'ON_ERROR_STOP=1', '-h', folder, '-U', 'bench', 'postgres'], sql).trim();
  ask('CREATE EXTENSION postgis');
  return {
    version: ask('SELECT postgis_lib_version()'),
    load(lines) {
      const rows = lines.map((line) => `SRID=4326;LINESTRING(${line.map((at) => at.join(' ')).join(',')})`);
      ask(
        `CREATE TABLE lines (geom geometry(LineString, 4326));\nCOPY lines FROM STDIN;\n${rows.join('\n')}\n\\.\n`,
      );
      ask('VACUUM ANALYZE lines');
      const [beacons, lengthM] = ask(`${SETTINGS}${QUERY};`).split('|').map(Number) as [number, number];
      return { beacons, lengthM };
    },
    timeMs() {
      const plan = ask(`${SETTINGS}EXPLAIN (ANALYZE, TIMING OFF) ${QUERY};`);
      const ms = Number(/Execution Time: ([\d.]+) ms/.exec(plan)?.[1]);
      if (!(ms > 0)) throw new Error(`no time in the server's answer: ${plan}`);
      return ms;
    },
  };
}

/** The folder of a PostgreSQL that has PostGIS; the newest of Debian's, else the one on the path. */
function findPrograms(): string | undefined {
  const debian = existsSync(DEBIAN) ? readdirSync(DEBIAN).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = [
    ...debian.map((version) => join(DEBIAN, version, 'bin')),
    ...(process.env.PATH ?? '').split(delimiter),
  ];
  return folders.find(
    (folder) =>
      ['initdb', 'pg_ctl', 'psql'].every((program) => existsSync(join(folder, program))) &&
      hasPostgis(folder),
  );
}

function hasPostgis(folder: string): boolean {
  const config = join(folder, 'pg_config');
  if (!existsSync(config)) return false;
  const share = execFileSync(config, ['--sharedir'], { encoding: 'utf8' }).trim();
  return existsSync(join(share, 'extension/postgis.control'));
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
