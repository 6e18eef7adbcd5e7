import type { LonLat } from '../geodesy/lon-lat.ts';
import type { OsmExtract, OsmWay, Tags } from '../osm/extract.ts';
import { findRoadClass } from '../osm/read-highway.ts';
import { readRoof } from '../osm/read-kind.ts';
import type { BoreFeature, FeatureKind } from './network.ts';

/** A thing of the map that is a feature if it stands on or near a bore. */
export type FeatureCandidate = Pick<BoreFeature, 'kind' | 'osm' | 'at' | 'label'> & {
  /** Its own node, or all of a way's. */
  readonly nodes: readonly number[];
  /** It is a node of a road in the open air, or a way that meets one. */
  readonly isOnStreet: boolean;
  /** It says itself that it is under the ground. */
  readonly isUnderground: boolean;
  /** Where it names one, by `layer` or `level`. */
  readonly layer: number | undefined;
};

/** Finds what may be a feature in an extract, nodes before ways. A way counts at its middle node. */
export function findFeatureCandidates({ nodes, ways }: OsmExtract): readonly FeatureCandidate[] {
  const found: { kind: FeatureKind; way?: OsmWay; id: number; tags: Tags; nodes: readonly number[] }[] = [];
  const places = new Map<number, LonLat | undefined>();
  for (const { id, lon, lat, tags } of nodes) {
    const kind = tags === undefined ? undefined : findKind(tags, 'node');
    if (kind === undefined || tags === undefined) continue;
    found.push({ kind, id, tags, nodes: [id] });
    places.set(id, [lon, lat]);
  }
  for (const way of ways) {
    const kind = findKind(way.tags, 'way');
    if (kind !== undefined) found.push({ kind, way, id: way.id, tags: way.tags, nodes: way.nodes });
  }
  for (const { way } of found) {
    const middle = way === undefined ? undefined : middleOf(way);
    if (middle !== undefined && !places.has(middle)) places.set(middle, undefined);
  }
  fillPlaces(places, nodes);
  const onStreets = findOnStreets(ways, new Set(found.flatMap((one) => one.nodes)));
  return found.flatMap(({ kind, way, id, tags, nodes: own }) => {
    const at = places.get(way === undefined ? id : middleOf(way));
    if (at === undefined) return [];
    const label = tags['junction:ref'] ?? tags.ref ?? tags.name;
    return {
      kind,
      osm: { type: way === undefined ? 'node' : 'way', id },
      at,
      ...(label === undefined ? {} : { label }),
      nodes: own,
      isOnStreet: own.some((node) => onStreets.has(node)),
      isUnderground: tags.location === 'underground' || readRoof(tags) === 'tunnel',
      layer: readLevel(tags),
    };
  });
}

function middleOf({ nodes }: OsmWay): number {
  return nodes[Math.floor(nodes.length / 2)] ?? 0;
}

/** Looks the nodes up whose place is not known yet: few, so that not every node is indexed by its id. */
function fillPlaces(places: Map<number, LonLat | undefined>, nodes: OsmExtract['nodes']): void {
  let missing = 0;
  for (const place of places.values()) if (place === undefined) missing += 1;
  if (missing === 0) return;
  for (const { id, lon, lat } of nodes) {
    if (places.has(id) && places.get(id) === undefined) places.set(id, [lon, lat]);
  }
}

/** Which of these nodes a road in the open air passes through. */
function findOnStreets(ways: readonly OsmWay[], nodes: ReadonlySet<number>): ReadonlySet<number> {
  const found = new Set<number>();
  if (nodes.size === 0) return found;
  for (const way of ways) {
    if (findRoadClass(way.tags) === undefined || readRoof(way.tags) !== 'open') continue;
    for (const node of way.nodes) if (nodes.has(node)) found.add(node);
  }
  return found;
}

/** `layer`, else `level` (a floor, which below the ground has no other counting); undefined where neither is one number. */
function readLevel({ layer, level }: Tags): number | undefined {
  const text = layer ?? level;
  return text !== undefined && /^-?\d{1,2}$/.test(text) ? Number(text) : undefined;
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
