import { area as areaM2, bbox as boundsOf, kinks, polygon } from '@turf/turf';
import { type BBox, round7 } from '../../shared/geodesy/lon-lat.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { Area } from '../../shared/wire/survey.ts';

/** Larger areas keep a public server busy for minutes; a file serves them better. */
export const AREA_LIMIT_KM2 = 2500;

export type CheckedArea = { readonly bbox: BBox; readonly areaKm2: number };

/**
 * Checks the place that a map server shall be asked for and gives its bounds (degrees) and size (km²). Refuses
 * with `area-invalid` (not numbers, off the globe, west not before east, a ring that touches itself) or
 * `area-too-large`.
 */
export function checkArea(area: Area, limitKm2: number = AREA_LIMIT_KM2): Result<CheckedArea> {
  const ring = 'bbox' in area ? ringOfBox(area.bbox) : closeRing(area.ring);
  const reason = ('bbox' in area ? findBoxFault(area.bbox) : undefined) ?? findRingFault(ring);
  if (reason !== undefined) return refused(refusal('area-invalid', { reason }));
  const shape = polygon([ring]);
  const areaKm2 = areaM2(shape) / 1e6;
  if (areaKm2 > limitKm2) {
    return refused(refusal('area-too-large', { areaKm2: Math.ceil(areaKm2), limitKm2 }));
  }
  return done({ bbox: boundsOf(shape) as [number, number, number, number], areaKm2 });
}

type Position = [number, number];

function findBoxFault([west, south, east, north]: Readonly<BBox>): string | undefined {
  if (![west, south, east, north].every(Number.isFinite)) return 'a side is not a number';
  // Compared as they will be sent, so that a box thinner than 1e-7° is not sent as an empty one.
  if (round7(west) >= round7(east)) return 'west must be less than east';
  if (round7(south) >= round7(north)) return 'south must be less than north';
  return undefined;
}

function findRingFault(ring: readonly Position[]): string | undefined {
  if (!ring.flat().every(Number.isFinite)) return 'a corner is not a number';
  if (ring.some(([lon, lat]) => Math.abs(lon) > 180 || Math.abs(lat) > 90)) {
    return 'a corner is outside the globe';
  }
  const corners = ring.slice(1).map(([lon, lat]) => `${lon},${lat}`);
  if (new Set(corners).size < 3) return 'it needs at least three different corners';
  if (new Set(corners).size < corners.length) return 'its outline passes one corner twice';
  if (kinks(polygon([[...ring]])).features.length > 0) return 'its outline touches or crosses itself';
  if (isFlat(ring)) return 'its corners lie on one line';
  return undefined;
}

/** Whether all corners lie on one line, in degrees (on the sphere such a ring still has a sliver of area). */
function isFlat(ring: readonly Position[]): boolean {
  const [west, south, east, north] = boundsOf(polygon([[...ring]]));
  const sum = ring.slice(1).reduce((total, [lon, lat], i) => {
    const from = ring[i] as Position;
    return total + (from[0] - west) * (lat - south) - (lon - west) * (from[1] - south);
  }, 0);
  return Math.abs(sum) <= 1e-9 * ((east - west) * (north - south));
}

function ringOfBox([west, south, east, north]: Readonly<BBox>): Position[] {
  return roundAll([
    [west, south],
    [east, south],
    [east, north],
    [west, north],
    [west, south],
  ]);
}

/** Rounds as sent, drops corners that were given twice in a row, and closes an open ring. */
function closeRing(given: readonly (readonly [number, number])[]): Position[] {
  const ring = roundAll(given).filter((at, i, all) => i === 0 || !isSame(at, all[i - 1]));
  const first = ring[0];
  if (first !== undefined && (ring.length === 1 || !isSame(first, ring.at(-1)))) ring.push([...first]);
  return ring;
}

function roundAll(positions: readonly (readonly [number, number])[]): Position[] {
  return positions.map(([lon, lat]) => [round7(lon), round7(lat)]);
}

function isSame(a: Position, b: Position | undefined): boolean {
  return b !== undefined && a[0] === b[0] && a[1] === b[1];
}
