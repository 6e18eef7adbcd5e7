import { z } from 'zod';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import { toPlainHead } from './find-columns.ts';
import { INVENTORY_NAMES, type RawBeacon } from './raw-beacon.ts';
import { MAX_ROWS } from './read-table.ts';

/** RFC 7946 knows no `crs`; what was written before it may say WGS84 in these words. */
const WGS84 = /^(urn:ogc:def:crs:)?(ogc:(1\.3|1\.3\.\d|2)?:?crs84|epsg::?4326)$/i;

const crsSchema = z.object({ properties: z.object({ name: z.string() }) });
const collectionSchema = z.object({
  type: z.literal('FeatureCollection'),
  crs: z.unknown().optional(),
  features: z.array(z.unknown()),
});
const pointSchema = z.object({
  id: z.union([z.string(), z.number()]).optional(),
  type: z.literal('Feature'),
  geometry: z.object({ type: z.literal('Point'), coordinates: z.array(z.number()).min(2) }),
  properties: z.record(z.string(), z.unknown()).nullish(),
});

/**
 * Reads the features of a GeoJSON inventory, numbered from 1. Refused as `inventory-json` where it is no FeatureCollection
 * with features, as `inventory-crs` where it is not on WGS84, as `table-too-large` where it is longer than a table may be;
 * a feature that is no Point carries a fault.
 */
export function readInventoryJson(text: string, name: string): Result<readonly RawBeacon[]> {
  const data = parseJson(text);
  if (data === undefined) return refused(refusal('inventory-json', { name, reason: 'it is not valid JSON' }));
  const parsed = collectionSchema.safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const reason = `${issue?.path.join('.') || 'document'}: ${issue?.message ?? 'not understood'}`;
    return refused(refusal('inventory-json', { name, reason }));
  }
  const { crs, features } = parsed.data;
  if (crs !== undefined && crs !== null) {
    const told = crsSchema.safeParse(crs);
    const crsName = told.success ? told.data.properties.name : 'unknown';
    if (!WGS84.test(crsName)) return refused(refusal('inventory-crs', { name, crs: crsName.slice(0, 120) }));
  }
  if (features.length === 0)
    return refused(refusal('inventory-json', { name, reason: 'it holds no feature' }));
  if (features.length > MAX_ROWS)
    return refused(refusal('table-too-large', { name, limit: `${MAX_ROWS} features` }));
  return done(features.map((feature, i) => toRaw(feature, i + 1)));
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return undefined;
  }
}

function toRaw(feature: unknown, line: number): RawBeacon {
  const parsed = pointSchema.safeParse(feature);
  if (!parsed.success) {
    const none = { lon: undefined, lat: undefined, deviceId: '', state: '', installDate: '' };
    return { line, ...none, fault: 'not a feature with a Point' };
  }
  const { geometry, properties, id } = parsed.data;
  const [lon, lat] = geometry.coordinates;
  const list = (names: readonly string[]): readonly string[] => {
    const values = Object.entries(properties ?? {})
      .filter(([key]) => names.some((one) => toPlainHead(one) === toPlainHead(key)))
      .map(([, value]) =>
        typeof value === 'string' || typeof value === 'number' ? String(value).trim() : '',
      );
    return [...new Set(values.filter((value) => value !== ''))];
  };
  const found = {
    deviceId: list(INVENTORY_NAMES.deviceId),
    state: list(INVENTORY_NAMES.state),
    installDate: list(INVENTORY_NAMES.installDate),
  };
  const twice = Object.entries(found).find(([, values]) => values.length > 1)?.[0];
  const [deviceId = String(id ?? ''), state = '', installDate = ''] = Object.values(found).map(
    ([value]) => value,
  );
  const read = { line, lon, lat, deviceId, state, installDate };
  return twice === undefined ? read : { ...read, fault: `two properties say different things: ${twice}` };
}
