import type { LonLat } from '../geodesy/lon-lat.ts';
import type { OsmExtract, OsmWay } from '../osm/extract.ts';
import { findRoadClass, type RoadClass } from '../osm/read-highway.ts';
import {
  findNotInUse,
  isRestricted,
  NOT_A_BORE,
  namesTunnel,
  type Roof,
  readRoof,
} from '../osm/read-kind.ts';
import { readOneway } from '../osm/read-oneway.ts';
import { type Finding, finding, type Staged, type Subject } from '../outcome/finding.ts';
import type { TravelDirection } from './network.ts';
import { indexWays, makeNodeIndex } from './node-index.ts';

/**
 * A way that cars may use (or an unbroken run of it), turned so that a one-way way runs forward. Consecutive
 * nodes differ; `line` has one position per node.
 */
export type RoadWay = {
  readonly wayId: number;
  readonly tags: OsmWay['tags'];
  readonly roadClass: RoadClass;
  readonly roof: Roof;
  readonly restricted: boolean;
  readonly direction: TravelDirection;
  /** `oneway=-1`: `nodes` run against the way's own order. */
  readonly reversed: boolean;
  readonly nodes: readonly number[];
  readonly line: readonly LonLat[];
};

export type ClassifiedWays = {
  /** The roads under a roof, in the order of their ways' ids. */
  readonly underRoof: readonly RoadWay[];
  /** The roads through a node, in the order of their ids: made when they are first asked for, for few ever are. */
  roadsAt(node: number): readonly RoadWay[];
  /** Whether no more than one road passes through the node, and that one once. */
  isPassedOnce(node: number): boolean;
  /** All roads, in the order of their ids. */
  listRoads(): readonly RoadWay[];
  /** Whether a road has a neighbour of the node that the extract does not hold: there the data end, not the road. */
  isCutAt(node: number): boolean;
  placeOf(node: number): LonLat | undefined;
  /** The node's place in the extract's list, or -1, so that what is known of nodes can be kept in plain lists. */
  indexOf(node: number): number;
  readonly nodeCount: number;
};

/** Takes the ways that cars may use out of an extract; every tunnel way that is left out leaves a finding. */
export function classifyWays(extract: OsmExtract): Staged<ClassifiedWays> {
  const findings: Finding[] = [];
  const ways: OsmWay[] = [];
  // Everything after this stands in the order of the ways: the same answer whatever order they came in.
  for (const way of [...extract.ways].sort((a, b) => a.id - b.id)) {
    const roadClass = findUsedClass(way.tags);
    const dropped = roadClass === undefined ? whyDropped(way) : undefined;
    if (roadClass !== undefined) ways.push(way);
    else if (dropped !== undefined) findings.push(dropped);
  }
  const nodeIndex = makeNodeIndex(extract.nodes);
  const waysAt = indexWays(nodeIndex, extract.nodes.length, ways);
  const made: (readonly RoadWay[] | undefined)[] = [];
  const cutNodes = new Set<number>();
  const placeOf = (id: number): LonLat | undefined => {
    const node = extract.nodes[nodeIndex.find(id)];
    return node === undefined ? undefined : [node.lon, node.lat];
  };
  const makeAll = (place: number) => {
    made[place] ??= makeRoads(ways[place] as OsmWay, placeOf, cutNodes, findings);
    return made[place];
  };
  const roadsAt = (node: number) => {
    const roads: RoadWay[] = [];
    const place = nodeIndex.find(node);
    if (place >= 0) waysAt.visit(place, (way) => roads.push(...makeAll(way)));
    return roads;
  };
  // Only these leave findings: the others can wait until they are asked for.
  const underRoof = ways.flatMap((way, place) => (namesTunnel(way.tags) ? makeAll(place) : []));
  return {
    value: {
      underRoof: underRoof.filter(({ roof }) => roof !== 'open'),
      roadsAt,
      isPassedOnce(node) {
        const place = nodeIndex.find(node);
        return place >= 0 && waysAt.count(place) === 1;
      },
      listRoads: () => ways.flatMap((_, place) => makeAll(place)),
      isCutAt: (node) => roadsAt(node).length > 0 && cutNodes.has(node),
      placeOf,
      indexOf: nodeIndex.find,
      nodeCount: extract.nodes.length,
    },
    findings,
  };
}

/** The class of a road that is in use; areas are no carriageways. */
function findUsedClass(tags: OsmWay['tags']): RoadClass | undefined {
  const roadClass = findRoadClass(tags);
  const isUsed = roadClass !== undefined && tags.area !== 'yes' && findNotInUse(tags) === undefined;
  return isUsed ? roadClass : undefined;
}

/** A way's unbroken runs as roads; what its nodes lack is noted. */
function makeRoads(
  way: OsmWay,
  placeOf: ClassifiedWays['placeOf'],
  cutNodes: Set<number>,
  findings: Finding[],
): readonly RoadWay[] {
  const { tags } = way;
  const roof = readRoof(tags);
  const runs = splitAtMissing(way, placeOf, cutNodes);
  noteRuns(way, runs, findings);
  const { oneway, unreadable } = readOneway(tags);
  if (unreadable !== undefined && roof !== 'open') {
    findings.push(finding('oneway-unreadable', subjectOf(way), { value: unreadable }, runs[0]?.line[0]));
  }
  const reversed = oneway === 'backward';
  return runs.map((run) => ({
    wayId: way.id,
    tags,
    roadClass: findRoadClass(tags) as RoadClass,
    roof,
    restricted: isRestricted(tags),
    direction: oneway === 'backward' ? 'forward' : oneway,
    reversed,
    nodes: reversed ? run.nodes.reverse() : run.nodes,
    line: reversed ? run.line.reverse() : run.line,
  }));
}

type Run = { readonly nodes: number[]; readonly line: LonLat[] };

function subjectOf(way: OsmWay): Subject {
  return { kind: 'way', id: String(way.id) };
}

/** A finding where a way that names a tunnel is no road for cars; ways in the open air are left out in silence. */
function whyDropped(way: OsmWay): Finding | undefined {
  if (!namesTunnel(way.tags)) return undefined;
  const notInUse = findNotInUse(way.tags);
  if (notInUse !== undefined) return finding('way-not-in-use', subjectOf(way), { state: notInUse });
  const { highway, area } = way.tags;
  if (highway === undefined) return undefined;
  return finding(area === 'yes' ? 'way-area' : 'way-not-drivable', subjectOf(way), { highway });
}

function splitAtMissing(
  way: OsmWay,
  placeOf: ClassifiedWays['placeOf'],
  cutNodes: Set<number>,
): readonly Run[] {
  const runs: Run[] = [];
  let run: Run = { nodes: [], line: [] };
  let missingBefore = false;
  for (const node of way.nodes) {
    const at = placeOf(node);
    if (at === undefined) {
      const last = run.nodes.at(-1);
      if (last !== undefined) cutNodes.add(last);
      if (run.nodes.length > 0) runs.push(run);
      run = { nodes: [], line: [] };
      missingBefore = true;
      continue;
    }
    if (missingBefore) cutNodes.add(node);
    missingBefore = false;
    if (run.nodes.at(-1) === node) continue;
    run.nodes.push(node);
    run.line.push(at);
  }
  if (run.nodes.length > 0) runs.push(run);
  return runs.filter((part) => part.nodes.length >= 2);
}

function noteRuns(way: OsmWay, runs: readonly Run[], findings: Finding[]): void {
  if (readRoof(way.tags) === 'open') {
    if (NOT_A_BORE.has(way.tags.tunnel ?? '')) {
      const at = runs[0]?.line[0];
      findings.push(finding('way-tunnel-value', subjectOf(way), { tunnel: way.tags.tunnel ?? '' }, at));
    }
    return;
  }
  if (runs[0]?.nodes.length === way.nodes.length) return;
  // Counted once each: a ring names its first node twice.
  const kept = new Set(runs.flatMap((run) => run.nodes)).size;
  const inWay = new Set(way.nodes).size;
  if (runs.length === 0) {
    findings.push(finding('way-too-short', subjectOf(way), { nodes: way.nodes.length }));
  } else if (kept < inWay) {
    const params = { present: kept, inWay };
    findings.push(finding('way-nodes-missing', subjectOf(way), params, runs[0]?.line.at(-1)));
  }
}
