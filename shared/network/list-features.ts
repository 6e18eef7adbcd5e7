import Flatbush from 'flatbush';
import { makeRuler, type Ruler } from '../alignment/make-ruler.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import type { OsmExtract, OsmWay, Tags } from '../osm/extract.ts';
import type { BoreFeature, FeatureKind, Link, LinkId } from './network.ts';

/** Farther from the centreline than this a feature belongs to something else: half of three lanes, a lay-by and a niche. */
const REACH_M = 15;
/** One degree of latitude is at least this long. */
const DEGREE_M = 110_574;

/**
 * Finds the features on or near the links, each with the link that is nearest and its chainage there, sorted by
 * link, chainage and id. A way (a lay-by drawn as a line, a cross passage) counts at its middle node.
 */
export function listFeatures(extract: OsmExtract, links: readonly Link[]): readonly BoreFeature[] {
  if (links.length === 0) return [];
  const findNearest = makeFinder(links);
  const wayPlaces = findWayPlaces(extract);
  const onLinks = new Set(links.flatMap((link) => link.nodes));
  const features: BoreFeature[] = [];
  const add = (type: 'node' | 'way', id: number, tags: Tags, at: LonLat | undefined) => {
    const kind = findKind(tags, type);
    if (kind === undefined || at === undefined) return;
    // A junction is a node of its road: one of a road above or beside the bore is none of the bore's.
    if (kind === 'junction' && !onLinks.has(id)) return;
    const nearest = findNearest(at);
    if (nearest === undefined) return;
    const label = tags['junction:ref'] ?? tags.ref ?? tags.name;
    features.push({ kind, osm: { type, id }, at, ...nearest, ...(label === undefined ? {} : { label }) });
  };
  for (const node of extract.nodes) {
    if (node.tags !== undefined) add('node', node.id, node.tags, [node.lon, node.lat]);
  }
  for (const way of extract.ways) {
    add('way', way.id, way.tags, wayPlaces.get(middleOf(way)));
  }
  return features.sort(
    (a, b) =>
      (a.linkId < b.linkId ? -1 : a.linkId > b.linkId ? 1 : 0) ||
      a.chainageM - b.chainageM ||
      a.osm.id - b.osm.id,
  );
}

function middleOf({ nodes }: OsmWay): number {
  return nodes[Math.floor(nodes.length / 2)] ?? 0;
}

/** Where the middle nodes of the ways are that may be features: few, so that not every node is looked up by id. */
function findWayPlaces({ nodes, ways }: OsmExtract): ReadonlyMap<number, LonLat> {
  const middles = new Set<number>();
  for (const way of ways) if (findKind(way.tags, 'way') !== undefined) middles.add(middleOf(way));
  const places = new Map<number, LonLat>();
  for (const { id, lon, lat } of nodes) if (middles.has(id)) places.set(id, [lon, lat]);
  return places;
}

function findKind(tags: Tags, type: 'node' | 'way'): FeatureKind | undefined {
  const { emergency, entrance, highway } = tags;
  if (highway === 'emergency_bay' || emergency === 'bay' || emergency === 'lay_by') return 'lay-by';
  if (
    entrance === 'emergency' ||
    emergency === 'exit' ||
    emergency === 'emergency_exit' ||
    tags.exit === 'emergency'
  ) {
    return 'emergency exit';
  }
  if (emergency === 'phone') return 'emergency phone';
  if (emergency === 'fire_extinguisher') return 'fire extinguisher';
  if (emergency === 'fire_hydrant') return 'fire hydrant';
  if (type === 'node') return highway === 'motorway_junction' ? 'junction' : undefined;
  const isPassage =
    highway === 'footway' || highway === 'path' || highway === 'corridor' || highway === 'steps';
  return isPassage && tags.tunnel !== undefined && tags.tunnel !== 'no' && isForEmergency(tags)
    ? 'cross passage'
    : undefined;
}

function isForEmergency(tags: Tags): boolean {
  return tags.emergency === 'designated' || tags.emergency === 'yes' || tags.tunnel === 'cross_passage';
}

function makeFinder(links: readonly Link[]) {
  const index = new Flatbush(links.length);
  for (const { line } of links) {
    const lons = line.map(([lon]) => lon);
    const lats = line.map(([, lat]) => lat);
    index.add(Math.min(...lons), Math.min(...lats), Math.max(...lons), Math.max(...lats));
  }
  index.finish();
  const rulers = new Map<number, Ruler>();
  return ([lon, lat]: LonLat) => {
    const dLat = REACH_M / DEGREE_M;
    const dLon = dLat / Math.max(0.05, Math.cos((lat * Math.PI) / 180));
    let best: { linkId: LinkId; chainageM: number; offsetM: number; distanceM: number } | undefined;
    for (const i of index.search(lon - dLon, lat - dLat, lon + dLon, lat + dLat).sort((a, b) => a - b)) {
      const link = links[i] as Link;
      const ruler = rulers.get(i) ?? makeRuler(link.line);
      rulers.set(i, ruler);
      const { chainageM, offsetM, distanceM } = ruler.locate([lon, lat]);
      if (distanceM <= REACH_M && distanceM < (best?.distanceM ?? Number.POSITIVE_INFINITY)) {
        best = { linkId: link.id, chainageM, offsetM, distanceM };
      }
    }
    if (best === undefined) return undefined;
    const { distanceM: _, ...place } = best;
    return place;
  };
}
