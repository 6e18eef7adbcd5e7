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
  readonly roads: readonly RoadWay[];
  /** Nodes whose neighbour the extract does not hold: there the data end, not the road. */
  readonly cutNodes: ReadonlySet<number>;
};

/** Takes the ways that cars may use out of an extract; every tunnel way that is left out leaves a finding. */
export function classifyWays(extract: OsmExtract): Staged<ClassifiedWays> {
  const positions = new Map<number, LonLat>(extract.nodes.map((node) => [node.id, [node.lon, node.lat]]));
  const roads: RoadWay[] = [];
  const findings: Finding[] = [];
  const cutNodes = new Set<number>();
  // Everything after this stands in the order of the ways: the same answer whatever order they came in.
  for (const way of [...extract.ways].sort((a, b) => a.id - b.id)) {
    const isRoad = way.tags.area !== 'yes' && findNotInUse(way.tags) === undefined;
    const roadClass = isRoad ? findRoadClass(way.tags) : undefined;
    const dropped = whyDropped(way, roadClass);
    if (roadClass === undefined || dropped !== undefined) {
      if (dropped !== undefined) findings.push(dropped);
      continue;
    }
    const runs = splitAtMissing(way, positions, cutNodes);
    noteRuns(way, runs, findings);
    const { oneway, unreadable } = readOneway(way.tags);
    if (unreadable !== undefined && readRoof(way.tags) !== 'open') {
      findings.push(finding('oneway-unreadable', subjectOf(way), { value: unreadable }, runs[0]?.line[0]));
    }
    for (const run of runs) {
      const reversed = oneway === 'backward';
      roads.push({
        wayId: way.id,
        tags: way.tags,
        roadClass,
        roof: readRoof(way.tags),
        restricted: isRestricted(way.tags),
        direction: oneway === 'backward' ? 'forward' : oneway,
        reversed,
        nodes: reversed ? [...run.nodes].reverse() : run.nodes,
        line: reversed ? [...run.line].reverse() : run.line,
      });
    }
  }
  return { value: { roads, cutNodes }, findings };
}

type Run = { readonly nodes: number[]; readonly line: LonLat[] };

function subjectOf(way: OsmWay): Subject {
  return { kind: 'way', id: String(way.id) };
}

/** A finding where a way that names a tunnel is no road for cars; ways in the open air are left out in silence. */
function whyDropped(way: OsmWay, roadClass: RoadClass | undefined): Finding | undefined {
  if (!namesTunnel(way.tags)) return undefined;
  const notInUse = findNotInUse(way.tags);
  if (notInUse !== undefined) return finding('way-not-in-use', subjectOf(way), { state: notInUse });
  const { highway, area } = way.tags;
  if (highway === undefined) return undefined;
  if (area === 'yes') return finding('way-area', subjectOf(way), { highway });
  return roadClass === undefined ? finding('way-not-drivable', subjectOf(way), { highway }) : undefined;
}

function splitAtMissing(
  way: OsmWay,
  positions: ReadonlyMap<number, LonLat>,
  cutNodes: Set<number>,
): readonly Run[] {
  const runs: Run[] = [];
  let run: Run = { nodes: [], line: [] };
  let missingBefore = false;
  for (const node of way.nodes) {
    const at = positions.get(node);
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
