import type { Feature, FeatureCollection, LineString, MultiLineString, Point, Position } from 'geojson';
import { makeRuler } from '../../../shared/alignment/make-ruler.ts';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import { localDelta } from '../../../shared/geodesy/segment.ts';
import { lookOf } from '../../../shared/tiles/look-of.ts';

/** For each complex the middle of its longest link (for a label far out) and that link (for one along it). */
export function toComplexLabels(complexes: FeatureCollection): FeatureCollection {
  return collect(
    complexes.features.flatMap((complex): Feature[] => {
      const line = findLongest((complex.geometry as MultiLineString).coordinates);
      if (line === undefined) return [];
      const { properties } = withProperties(complex, {
        complex: String(complex.id),
        look: lookOf(complex.properties ?? {}),
      });
      const drawn = {
        name: properties?.name ?? properties?.ref ?? '',
        isFlat: isFlat(line),
        ...pick(properties, ['complex', 'look', 'kind', 'restricted', 'exitCount', 'lengthM']),
      };
      const point: Point = { type: 'Point', coordinates: middleOf(line) };
      // Left to right, so that the name stands on the same side of every bore.
      const along: LineString = { type: 'LineString', coordinates: eastward(line) };
      return [
        { type: 'Feature', properties: drawn, geometry: point },
        { type: 'Feature', properties: drawn, geometry: along },
      ];
    }),
  );
}

function findLongest(lines: Position[][]): LonLat[] | undefined {
  const measured = lines.map((line) => ({
    line: line as unknown as LonLat[],
    lengthM: makeRuler(line as unknown as LonLat[]).lengthM,
  }));
  return measured.sort((a, b) => b.lengthM - a.lengthM)[0]?.line;
}

/** It runs rather east and west than north and south. */
function isFlat(line: readonly LonLat[]): boolean {
  const first = line[0] as LonLat;
  const { east, north } = localDelta(first, line.at(-1) ?? first);
  return Math.abs(east) > Math.abs(north);
}

function middleOf(line: readonly LonLat[]): Position {
  const ruler = makeRuler(line);
  const middle = ruler.pointAt(ruler.lengthM / 2);
  return [...(middle.ok ? middle.value : (line[0] as LonLat))];
}

function eastward(line: readonly LonLat[]): Position[] {
  const positions = line.map((at) => [...at]);
  const [first, last] = [line[0], line.at(-1)];
  return first !== undefined && last !== undefined && last[0] < first[0] ? positions.reverse() : positions;
}

function pick(properties: Feature['properties'], names: readonly string[]): Record<string, unknown> {
  return Object.fromEntries(names.map((name) => [name, properties?.[name]]));
}

function withProperties(feature: Feature, added: Readonly<Record<string, unknown>>): Feature {
  return { ...feature, properties: { ...feature.properties, ...added } };
}

function collect(features: Feature[]): FeatureCollection {
  return { type: 'FeatureCollection', features };
}
