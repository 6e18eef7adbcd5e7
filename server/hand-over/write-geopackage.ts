import { createReadStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Feature } from 'geojson';
import Database from 'libsql';
import { COLLECTION_COLUMNS, type Column } from '../../shared/export/collection-columns.ts';
import type { Origin } from '../../shared/export/origin.ts';
import { toLicenceText } from '../../shared/export/to-licence-text.ts';
import { LAYER_TITLES } from '../../shared/export/tunnel-marks.ts';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import type { ExportedLayer } from '../../shared/wire/layers.ts';
import { takeTurns } from '../take-turns.ts';
import { GEOPACKAGE_PRAGMAS, GEOPACKAGE_TABLES, WGS84_ID } from './geopackage-schema.ts';
import { toGeopackageBlob } from './to-geopackage-blob.ts';

/** What a GeoPackage is made of: each layer with its features, and when it was asked for. */
export type GeopackageParts = {
  readonly layers: readonly { readonly layer: ExportedLayer; readonly features: Iterable<Feature> }[];
  readonly origin: Origin;
  readonly at: Date;
};

/** A GeoPackage 1.3: a table for each layer. Written to a file of its own, which is removed afterwards, however it ends. */
export async function* writeGeopackage(
  parts: GeopackageParts,
  signal: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const folder = await mkdtemp(join(tmpdir(), 'boremark-gpkg-'));
  try {
    const path = join(folder, 'survey.gpkg');
    await fill(path, parts, signal);
    for await (const chunk of createReadStream(path)) yield chunk as Uint8Array;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function fill(
  path: string,
  { layers, origin, at }: GeopackageParts,
  signal: AbortSignal,
): Promise<void> {
  const database = new Database(path);
  try {
    // The file is gone if the program stops: it needs no safety net.
    for (const pragma of [...GEOPACKAGE_PRAGMAS, 'journal_mode = off', 'synchronous = off']) {
      database.exec(`pragma ${pragma}`);
    }
    database.exec('begin');
    database.exec(GEOPACKAGE_TABLES);
    noteLicence(database, origin, at);
    const turn = takeTurns();
    for (const { layer, features } of layers) {
      const insert = makeTable(database, layer);
      let all: BBox | undefined;
      for (const feature of features) {
        all = unite(all, insert(feature));
        await turn();
        signal.throwIfAborted();
      }
      database
        .prepare(
          'update gpkg_contents set description = ?, last_change = ?, min_x = ?, min_y = ?, max_x = ?, max_y = ? where table_name = ?',
        )
        .run([origin.attribution, at.toISOString(), ...(all ?? [null, null, null, null]), layer]);
    }
    database.exec('commit');
  } finally {
    database.close();
  }
}

const SQL_TYPES: Readonly<Record<Column['type'], string>> = {
  text: 'TEXT',
  json: 'TEXT',
  integer: 'INTEGER',
  real: 'DOUBLE',
  boolean: 'BOOLEAN',
};

const GEOMETRY_TYPES: Readonly<Partial<Record<ExportedLayer, string>>> = {
  complexes: 'MULTILINESTRING',
  bores: 'LINESTRING',
  coverage: 'MULTIPOLYGON',
};

/** Makes the table of a layer; returns what adds a feature to it and tells its bounds. */
function makeTable(database: Database.Database, layer: ExportedLayer): (feature: Feature) => BBox {
  const columns = COLLECTION_COLUMNS[layer];
  const geometryType = GEOMETRY_TYPES[layer] ?? 'POINT';
  const declared = columns.map(({ name, type }) => `"${name}" ${SQL_TYPES[type]}`);
  database.exec(
    `create table "${layer}" (fid integer primary key autoincrement not null, geom ${geometryType}, id text not null unique, ${declared.join(', ')})`,
  );
  database
    .prepare(
      "insert into gpkg_contents (table_name, data_type, identifier, srs_id) values (?, 'features', ?, ?)",
    )
    .run([layer, LAYER_TITLES[layer], WGS84_ID]);
  database
    .prepare("insert into gpkg_geometry_columns values (?, 'geom', ?, ?, 0, 0)")
    .run([layer, geometryType, WGS84_ID]);
  const names = ['geom', 'id', ...columns.map(({ name }) => name)];
  const insert = database.prepare(
    `insert into "${layer}" (${names.map((name) => `"${name}"`).join(', ')}) values (${names.map(() => '?').join(', ')})`,
  );
  return ({ id, geometry, properties }) => {
    const { blob, bounds } = toGeopackageBlob(geometry);
    insert.run([blob, String(id), ...columns.map(({ name }) => toValue(properties?.[name]))]);
    return bounds;
  };
}

function toValue(value: unknown): string | number | null {
  if (value === undefined || value === null) return null;
  if (typeof value === 'boolean') return value ? 1 : 0;
  return typeof value === 'number' || typeof value === 'string' ? value : JSON.stringify(value);
}

/** Who has to be named and what the licence asks, for the whole file. */
function noteLicence(database: Database.Database, origin: Origin, at: Date): void {
  database
    .prepare(
      "insert into gpkg_metadata values (1, 'dataset', 'http://purl.org/dc/terms/license', 'text/plain', ?)",
    )
    .run([toLicenceText(origin)]);
  database
    .prepare("insert into gpkg_metadata_reference values ('geopackage', null, null, null, ?, 1, null)")
    .run([at.toISOString()]);
}

function unite(a: BBox | undefined, b: BBox): BBox {
  if (a === undefined) return b;
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
}
