import type { Geometry, Position } from 'geojson';
import { toWkb } from '../../shared/export/to-wkb.ts';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { WGS84_ID } from './geopackage-schema.ts';

const HEAD_BYTES = 8;
const ENVELOPE_BYTES = 32;
const LITTLE_ENDIAN = 0b1;
const HAS_ENVELOPE = 0b10;

/** A geometry as a GeoPackage holds it (OGC 12-128r18, 2.1.3): head, envelope unless it is a point, WKB. */
export function toGeopackageBlob(geometry: Geometry): { readonly blob: Buffer; readonly bounds: BBox } {
  const bounds = findBounds(geometry);
  const isPoint = geometry.type === 'Point';
  const wkb = toWkb(geometry);
  const at = HEAD_BYTES + (isPoint ? 0 : ENVELOPE_BYTES);
  const blob = Buffer.alloc(at + wkb.length);
  blob.write('GP', 'latin1');
  blob.writeUInt8(LITTLE_ENDIAN | (isPoint ? 0 : HAS_ENVELOPE), 3);
  blob.writeInt32LE(WGS84_ID, 4);
  if (!isPoint) {
    const [west, south, east, north] = bounds;
    [west, east, south, north].forEach((value, i) => {
      blob.writeDoubleLE(value, HEAD_BYTES + 8 * i);
    });
  }
  blob.set(wkb, at);
  return { blob, bounds };
}

function findBounds(geometry: Geometry): BBox {
  if (geometry.type === 'GeometryCollection') throw new Error('no layer has a geometry collection');
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const visit = (list: readonly unknown[]) => {
    if (typeof list[0] !== 'number') {
      for (const one of list) visit(one as readonly unknown[]);
      return;
    }
    const [lon = 0, lat = 0] = list as Position;
    west = Math.min(west, lon);
    east = Math.max(east, lon);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  };
  visit(geometry.coordinates);
  return [west, south, east, north];
}
