import type { Feature, Position } from 'geojson';
import { memo } from 'react';
import type { Layer } from '../../session/api.ts';
import type { Fitted, Spot } from './fit-map.ts';
import { placeLabels } from './place-labels.ts';
import { toPath } from './to-path.ts';

type Properties = Readonly<Record<string, string | undefined>>;

/** From below: each with what it takes, and whether it is an area. */
const GROUPS: readonly {
  readonly name: string;
  readonly isArea: boolean;
  readonly takes: (of: Properties) => boolean;
}[] = [
  { name: 'green', isArea: true, takes: (of) => GREEN.has(of.leisure ?? of.landuse ?? of.natural ?? '') },
  { name: 'water', isArea: true, takes: (of) => of.natural === 'water' || of.waterway === 'riverbank' },
  { name: 'river', isArea: false, takes: (of) => of.waterway === 'river' || of.waterway === 'canal' },
  { name: 'shore', isArea: false, takes: (of) => of.natural === 'coastline' },
  { name: 'rail', isArea: false, takes: (of) => of.railway === 'rail' },
  { name: 'minor', isArea: false, takes: (of) => MINOR.has(of.highway ?? '') },
  {
    name: 'main',
    isArea: false,
    takes: (of) => /^(trunk|primary|secondary)(_link)?$/.test(of.highway ?? ''),
  },
  { name: 'motorway', isArea: false, takes: (of) => /^motorway(_link)?$/.test(of.highway ?? '') },
];
const GREEN = new Set([
  'park',
  'garden',
  'golf_course',
  'nature_reserve',
  'forest',
  'wood',
  'meadow',
  'grass',
  'scrub',
]);
const MINOR = new Set(['tertiary', 'tertiary_link', 'unclassified', 'residential', 'living_street']);
/** In a wider view the small streets are a grey mash, metres for one unit. */
const WIDEST_WITH_MINOR = 45;

const PLACES = ['city', 'town', 'suburb', 'village'];
const MOST_PLACES = 14;
/** A letter's width and a name's height in the places' type. */
const [LETTER, LINE] = [5.2, 11];

type MapBackgroundProps = { readonly layer: Layer; readonly map: Fitted; readonly size: Spot };

/** Water, green, roads and the names of places, pale enough to lie under the tunnels. */
export const MapBackground = memo(({ layer, map, size }: MapBackgroundProps) => {
  const groups = GROUPS.filter(({ name }) => name !== 'minor' || map.metresPerUnit <= WIDEST_WITH_MINOR);
  return (
    <g>
      {groups.map(({ name, isArea, takes }) => {
        const lines = layer.features.filter(({ properties }) => takes((properties ?? {}) as Properties));
        const path = toPath(
          lines.flatMap(({ geometry }) => linesOf(geometry, isArea)),
          map,
          isArea,
        );
        return path === '' ? null : <path key={name} className={`map-${name}`} d={path} />;
      })}
      {listPlaces(layer, map, size).map(({ id, name, at: [x, y] }) => (
        <text key={id} className="map-place" x={x} y={y + LINE / 3}>
          {name}
        </text>
      ))}
    </g>
  );
});

function linesOf(geometry: Feature['geometry'], isArea: boolean): readonly (readonly Position[])[] {
  switch (geometry.type) {
    case 'LineString':
      return isArea ? [] : [geometry.coordinates];
    case 'MultiLineString':
      return isArea ? [] : geometry.coordinates;
    case 'Polygon':
      return isArea ? geometry.coordinates : [];
    case 'MultiPolygon':
      return isArea ? geometry.coordinates.flat() : [];
    default:
      return [];
  }
}

/** The largest places that find room. */
function listPlaces(layer: Layer, map: Fitted, size: Spot) {
  const found = layer.features.flatMap(({ id, geometry, properties }) => {
    const { name, place } = (properties ?? {}) as Properties;
    const weight = PLACES.indexOf(place ?? '');
    if (weight < 0 || name === undefined || geometry.type !== 'Point') return [];
    return [{ id: String(id), name, weight, at: map.toSpot(geometry.coordinates) }];
  });
  found.sort((a, b) => a.weight - b.weight || (a.id < b.id ? -1 : 1));
  const inside = found.filter(({ at: [x, y] }) => x > 0 && y > 0 && x < size[0] && y < size[1]);
  const labels = inside
    .slice(0, MOST_PLACES)
    .map(({ id, name, at }) => ({ id, at, width: name.length * LETTER, height: LINE }));
  const placed = placeLabels(labels, size, 1);
  return inside.flatMap(({ id, name }) => {
    const at = placed.get(id);
    return at === undefined ? [] : [{ id, name, at }];
  });
}
