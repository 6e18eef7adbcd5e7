import type { Geometry, Position } from 'geojson';

/** Well-known text (OGC 06-103r4) of a geometry; throws for collections, which no layer has. */
export function toWkt(geometry: Geometry): string {
  if (geometry.type === 'GeometryCollection') throw new Error('no layer has a geometry collection');
  return `${geometry.type.toUpperCase()} ${toList(geometry.type === 'Point' ? [geometry.coordinates] : geometry.coordinates)}`;
}

type Nested = readonly (Position | Nested)[];

function toList(list: Nested): string {
  return `(${list.map((one) => (typeof one[0] === 'number' ? one.join(' ') : toList(one as Nested))).join(', ')})`;
}
