import type { LonLat } from '../geodesy/lon-lat.ts';
import type { OsmExtract, Tags } from '../osm/extract.ts';
import { findRoadClass } from '../osm/read-highway.ts';
import { readRoof } from '../osm/read-kind.ts';
import type { ClassifiedWays } from './classify-ways.ts';
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
export function findFeatureCandidates(
  { nodes, ways }: OsmExtract,
  roads: Pick<ClassifiedWays, 'roadsAt' | 'placeOf'>,
): readonly FeatureCandidate[] {
  const found: FeatureCandidate[] = [];
  const add = (osm: FeatureCandidate['osm'], tags: Tags, own: readonly number[], at: LonLat | undefined) => {
    const kind = findKind(tags, osm.type);
    if (kind === undefined || at === undefined) return;
    const label = tags['junction:ref'] ?? tags.ref ?? tags.name;
    found.push({
      kind,
      osm,
      at,
      ...(label === undefined ? {} : { label }),
      nodes: own,
      isOnStreet: own.some((node) => roads.roadsAt(node).some(({ roof }) => roof === 'open')),
      isUnderground: tags.location === 'underground' || readRoof(tags) === 'tunnel',
      layer: readLevel(tags),
    });
  };
  for (const { id, lon, lat, tags } of nodes) {
    if (tags !== undefined) add({ type: 'node', id }, tags, [id], [lon, lat]);
  }
  for (const { id, tags, nodes: own } of ways) {
    if (mayBeFeature(tags)) add({ type: 'way', id }, tags, own, placeOfMiddle(own, roads));
  }
  return found;
}

/** Most ways are roads: one look at few keys passes them over. */
function mayBeFeature(tags: Tags): boolean {
  return findRoadClass(tags) === undefined || tags.emergency !== undefined || tags.exit !== undefined;
}

function placeOfMiddle(
  nodes: readonly number[],
  { placeOf }: Pick<ClassifiedWays, 'placeOf'>,
): LonLat | undefined {
  return placeOf(nodes[Math.floor(nodes.length / 2)] ?? 0);
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
