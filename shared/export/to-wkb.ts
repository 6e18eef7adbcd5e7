import type { Geometry, LineString, Point, Polygon, Position } from 'geojson';

const LITTLE_ENDIAN = 1;
/** Geometry types of OGC 06-103r4. */
const TYPES = {
  Point: 1,
  LineString: 2,
  Polygon: 3,
  MultiPoint: 4,
  MultiLineString: 5,
  MultiPolygon: 6,
} as const;
const HEAD_BYTES = 5;
const COUNT_BYTES = 4;
const POSITION_BYTES = 16;

/** Well-known binary, little endian, two coordinates; throws for geometry collections, which no layer has. */
export function toWkb(geometry: Geometry): Uint8Array {
  const bytes = new Uint8Array(sizeOf(geometry));
  write(new DataView(bytes.buffer), 0, geometry);
  return bytes;
}

type Single = Point | LineString | Polygon;

/** What a geometry of several parts consists of. */
function partsOf(geometry: Geometry): readonly Single[] | undefined {
  switch (geometry.type) {
    case 'MultiPoint':
      return geometry.coordinates.map((coordinates) => ({ type: 'Point', coordinates }));
    case 'MultiLineString':
      return geometry.coordinates.map((coordinates) => ({ type: 'LineString', coordinates }));
    case 'MultiPolygon':
      return geometry.coordinates.map((coordinates) => ({ type: 'Polygon', coordinates }));
    case 'GeometryCollection':
      throw new Error('no layer has a geometry collection');
    default:
      return undefined;
  }
}

function sizeOf(geometry: Geometry): number {
  const parts = partsOf(geometry);
  if (parts !== undefined) {
    return parts.reduce((sum, part) => sum + sizeOf(part), HEAD_BYTES + COUNT_BYTES);
  }
  const single = geometry as Single;
  if (single.type === 'Point') return HEAD_BYTES + POSITION_BYTES;
  const runs = single.type === 'LineString' ? [single.coordinates] : single.coordinates;
  const rings = single.type === 'LineString' ? 0 : COUNT_BYTES;
  return runs.reduce((sum, run) => sum + COUNT_BYTES + run.length * POSITION_BYTES, HEAD_BYTES + rings);
}

/** Writes a geometry at `at`; returns where it ends. */
function write(view: DataView, at: number, geometry: Geometry): number {
  view.setUint8(at, LITTLE_ENDIAN);
  view.setUint32(at + 1, TYPES[geometry.type as keyof typeof TYPES], true);
  const start = at + HEAD_BYTES;
  const parts = partsOf(geometry);
  if (parts !== undefined) {
    let end = writeCount(view, start, parts.length);
    for (const part of parts) end = write(view, end, part);
    return end;
  }
  const single = geometry as Single;
  if (single.type === 'Point') return writePosition(view, start, single.coordinates);
  if (single.type === 'LineString') return writeRun(view, start, single.coordinates);
  let end = writeCount(view, start, single.coordinates.length);
  for (const ring of single.coordinates) end = writeRun(view, end, ring);
  return end;
}

function writeRun(view: DataView, at: number, run: readonly Position[]): number {
  let end = writeCount(view, at, run.length);
  for (const position of run) end = writePosition(view, end, position);
  return end;
}

function writeCount(view: DataView, at: number, count: number): number {
  view.setUint32(at, count, true);
  return at + COUNT_BYTES;
}

function writePosition(view: DataView, at: number, [x = Number.NaN, y = Number.NaN]: Position): number {
  view.setFloat64(at, x, true);
  view.setFloat64(at + 8, y, true);
  return at + POSITION_BYTES;
}
