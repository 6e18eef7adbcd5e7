import { bbox as boundsOf } from '@turf/turf';
import type { Feature, FeatureCollection, Position } from 'geojson';
// CommonJS: the default import is the one that plain Node gives.
import osmtogeojson from 'osmtogeojson';
import type { OsmExtract } from '../osm/extract.ts';
import { makeFeature, toPosition } from './make-collection.ts';

/** The tags that the built-in map reads; all others are left out to keep the layer small. */
const DRAWN_TAGS = [
  'highway',
  'name',
  'ref',
  'tunnel',
  'covered',
  'bridge',
  'layer',
  'oneway',
  'natural',
  'water',
  'waterway',
  'leisure',
  'landuse',
  'railway',
  'aeroway',
  'place',
  'emergency',
  'entrance',
] as const;

/**
 * What the built-in map draws around the tunnels: roads, water, parks, rails, places, junctions and emergency
 * features, made from the extract itself by osmtogeojson (which loses node ids: never the source of the network).
 * Where the coast closes to islands, a `boremark:sea` polygon is the water around them.
 */
export function toContextFeatures(extract: OsmExtract): Feature[] {
  const elements = [
    ...extract.nodes.map((node) => ({ type: 'node', ...node })),
    ...extract.ways.map((way) => ({ type: 'way', ...way })),
    ...extract.relations
      .filter((relation) => relation.tags.type === 'multipolygon')
      .map((relation) => ({ type: 'relation', ...relation })),
  ];
  const converted = osmtogeojson({ elements }, { flatProperties: true }) as FeatureCollection;
  const features = converted.features.flatMap((feature) => {
    const drawn = DRAWN_TAGS.map((tag) => [tag, feature.properties?.[tag]] as const).filter(
      ([, value]) => value !== undefined,
    );
    return drawn.length === 0
      ? []
      : [makeFeature(String(feature.id), feature.geometry, Object.fromEntries(drawn))];
  });
  const sea = findSea(extract);
  return sea === undefined ? features : [sea, ...features];
}

/** How far the sea is drawn beyond the coast, as a share of the coast's own extent. */
const SEA_MARGIN = 3;

function findSea(extract: OsmExtract): Feature | undefined {
  const coast = extract.ways.filter((way) => way.tags.natural === 'coastline');
  const positions = new Map(extract.nodes.map((node) => [node.id, [node.lon, node.lat] as Position]));
  const rings = joinRings(coast.map((way) => [...way.nodes]));
  if (rings === undefined || rings.length === 0) return undefined;
  const islands = rings.map((ring) => ring.map((node) => positions.get(node)));
  if (rings.some((ring) => ring.length < 4)) return undefined;
  if (islands.some((island) => island.some((at) => at === undefined))) return undefined;
  const holes = islands as Position[][];
  const [west, south, east, north] = boundsOf({
    type: 'MultiLineString',
    coordinates: holes,
  }) as number[] as [number, number, number, number];
  const dx = (east - west) * SEA_MARGIN;
  const dy = (north - south) * SEA_MARGIN;
  const [w, e] = [Math.max(-180, west - dx), Math.min(180, east + dx)];
  const [s, n] = [Math.max(-89, south - dy), Math.min(89, north + dy)];
  const outer: Position[] = [
    [w, s],
    [e, s],
    [e, n],
    [w, n],
    [w, s],
  ].map(([lon, lat]) => toPosition([lon as number, lat as number]));
  const geometry = { type: 'Polygon' as const, coordinates: [outer, ...holes] };
  return makeFeature('sea', geometry, { natural: 'water', 'boremark:sea': 'yes' });
}

/** Coast pieces joined end to start to closed rings, or undefined where one stays open (the extract's edge). */
function joinRings(pieces: readonly number[][]): number[][] | undefined {
  const byStart = new Map(pieces.map((piece) => [piece[0], piece]));
  const rings: number[][] = [];
  while (byStart.size > 0) {
    const [[start, first]] = byStart as unknown as [[number, number[]]];
    byStart.delete(start);
    const ring = [...first];
    while (ring.at(-1) !== start) {
      const next = byStart.get(ring.at(-1));
      if (next === undefined) return undefined;
      byStart.delete(ring.at(-1));
      ring.push(...next.slice(1));
    }
    rings.push(ring);
  }
  return rings;
}
