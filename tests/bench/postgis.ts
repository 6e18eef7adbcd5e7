import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { startPostgres } from '../contracts/start-postgres.ts';

export const SPACING_M = 40;

/** A PostgreSQL server of the bench's own, with PostGIS. */
export type Postgis = {
  readonly version: string;
  /** Puts the lines into a table; returns how many beacons the query places on them, and how long they are. */
  load(lines: readonly (readonly LonLat[])[]): { readonly beacons: number; readonly lengthM: number };
  /** Runs the query once; the server's own time in milliseconds. */
  timeMs(): number;
};

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

/** Starts the server, for as long as this process lives; undefined where none with PostGIS can be started. */
export function startPostgis(): Postgis | undefined {
  const postgres = startPostgres({ isGood: hasPostgis, settings: ['fsync=off', 'shared_buffers=256MB'] });
  if (postgres === undefined) return undefined;
  const { ask } = postgres;
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

function hasPostgis(folder: string): boolean {
  const config = join(folder, 'pg_config');
  if (!existsSync(config)) return false;
  const share = execFileSync(config, ['--sharedir'], { encoding: 'utf8' }).trim();
  return existsSync(join(share, 'extension/postgis.control'));
}
