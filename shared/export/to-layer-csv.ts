import type { Feature } from 'geojson';
import type { ExportedLayer } from '../wire/layers.ts';
import { COLLECTION_COLUMNS } from './collection-columns.ts';
import { toCsv } from './to-csv.ts';
import { toWkt } from './to-wkt.ts';

/** A spreadsheet takes a table for UTF-8 where this stands first. */
const BYTE_ORDER_MARK = '\uFEFF';

/**
 * A layer as a table, piece by piece: id, every property, and where it is: `lon` and `lat` in degrees for points, `wkt`
 * for lines and areas. Units stand in the names of the columns (`lengthM`, `outageS`, `maxspeedKmh`).
 */
export function* toLayerCsv(layer: ExportedLayer, features: Iterable<Feature>): Generator<string> {
  const columns = ['id', ...COLLECTION_COLUMNS[layer].map(({ name }) => name), ...placeColumns(layer)];
  yield BYTE_ORDER_MARK + toCsv([], columns);
  for (const feature of features) yield toCsv([toRow(feature)], columns, false);
}

const POINTS: ReadonlySet<ExportedLayer> = new Set(['portals', 'decisions', 'features', 'beacons']);

function placeColumns(layer: ExportedLayer): readonly string[] {
  return POINTS.has(layer) ? ['lon', 'lat'] : ['wkt'];
}

function toRow({ id, geometry, properties }: Feature): Record<string, unknown> {
  const [lon, lat] = geometry.type === 'Point' ? geometry.coordinates : [];
  return {
    id,
    ...toFlat(properties ?? {}),
    lon,
    lat,
    wkt: geometry.type === 'Point' ? undefined : toWkt(geometry),
  };
}

/** Objects become JSON: a cell holds one value. */
export function toFlat(properties: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(properties).map(([name, value]) => [name, isPlain(value) ? value : JSON.stringify(value)]),
  );
}

function isPlain(value: unknown): boolean {
  return typeof value !== 'object' || (Array.isArray(value) && value.every((one) => typeof one !== 'object'));
}
