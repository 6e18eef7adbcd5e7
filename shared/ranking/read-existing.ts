import { z } from 'zod';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import { type ExistingBeacon, type ExistingFile, isKnownState } from './existing.ts';
import { findColumns } from './find-columns.ts';
import { findNumber } from './find-number.ts';
import { INVENTORY_NAMES, type RawBeacon } from './raw-beacon.ts';
import { readInventoryJson } from './read-inventory-json.ts';
import { readTable } from './read-table.ts';
import { makeNote, type RowNote } from './row-note.ts';

const COLUMNS = {
  lon: ['lon', 'longitude', 'lng'],
  lat: ['lat', 'latitude'],
  ...INVENTORY_NAMES,
} as const;

/**
 * Reads an inventory of beacons: a GeoJSON FeatureCollection of Points, or CSV with `lon` and `lat`; optional `device_id`,
 * `state` and `install_date` (ISO 8601). Told by content. Rows without a place and those that name a beacon again stay as
 * notes, so do dates that are none and states that are not understood.
 * Refused as `inventory-json`, `inventory-crs`, `inventory-coordinates` (outside the globe: projected, or latitude first)
 * and as readTable and findColumns say.
 */
export function readExisting(text: string, name: string): Result<ExistingFile> {
  const isJson = /^\uFEFF?\s*[{[]/.test(text);
  const raw = isJson ? readInventoryJson(text, name) : readCsv(text, name);
  if (!raw.ok) return raw;
  const items: ExistingBeacon[] = [];
  const notes: RowNote[] = [];
  const seen = new Map<string, number>();
  for (const one of raw.value) {
    const at = readPlace(one);
    const before = typeof at === 'string' ? undefined : seen.get(nameBeacon(one.deviceId, at));
    if (typeof at === 'string') {
      notes.push(makeNote(one.line, at));
    } else if (before !== undefined) {
      notes.push(
        makeNote(one.line, `the same beacon as ${isJson ? 'feature' : 'line'} ${before}`, one.deviceId),
      );
    } else if (!isOnGlobe(at)) {
      const where = `${isJson ? 'feature' : 'line'} ${one.line}`;
      return refused(refusal('inventory-coordinates', { name, where, lon: at[0], lat: at[1] }));
    } else {
      const { line, deviceId, state, installDate } = one;
      seen.set(nameBeacon(deviceId, at), line);
      const isDate = installDate !== '' && DATE.safeParse(installDate).success;
      items.push({
        line,
        at,
        ...(deviceId === '' ? {} : { deviceId }),
        ...(state === '' ? {} : { state }),
        ...(isDate ? { installDate } : {}),
      });
      if (!isKnownState(state)) {
        notes.push(makeNote(line, 'state is not understood: taken as not working', state, true));
      }
      if (installDate !== '' && !isDate) {
        notes.push(makeNote(line, 'install date is not an ISO date', installDate, true));
      }
    }
  }
  return done({ name, items, notes });
}

/** By its id; one that has none, by its place to a tenth of a metre. */
function nameBeacon(deviceId: string, [lon, lat]: LonLat): string {
  return deviceId === '' ? `at ${lon.toFixed(6)} ${lat.toFixed(6)}` : `id ${deviceId.toLowerCase()}`;
}

const DATE = z.union([z.iso.date(), z.iso.datetime({ offset: true, local: true })]);

function readCsv(text: string, name: string): Result<readonly RawBeacon[]> {
  const table = readTable(text, name);
  if (!table.ok) return table;
  const { heads, rows, decimalComma } = table.value;
  const columns = findColumns(table.value, name, COLUMNS, [['lon'], ['lat']]);
  if (!columns.ok) return columns;
  const places = columns.value;
  return done(
    rows.map(({ line, cells }) => {
      const cell = (key: keyof typeof COLUMNS) => cells[places[key] ?? -1] ?? '';
      const isWide = cells.slice(heads.length).some((text) => text !== '');
      return {
        line,
        lon: findNumber(cell('lon'), decimalComma),
        lat: findNumber(cell('lat'), decimalComma),
        deviceId: cell('deviceId'),
        state: cell('state'),
        installDate: cell('installDate'),
        ...(isWide ? { fault: 'more cells than columns' } : {}),
      };
    }),
  );
}

/** The position, or why there is none. */
function readPlace({ lon, lat, fault }: RawBeacon): LonLat | string {
  if (fault !== undefined) return fault;
  if (lon === undefined || Number.isNaN(lon)) return 'longitude missing or not a number';
  if (lat === undefined || Number.isNaN(lat)) return 'latitude missing or not a number';
  return [lon, lat];
}

function isOnGlobe([lon, lat]: LonLat): boolean {
  return Math.abs(lon) <= 180 && Math.abs(lat) <= 90;
}
