import type { LonLat } from '../geodesy/lon-lat.ts';
import { findDrivingSide } from '../osm/find-driving-side.ts';
import { readMaxspeed } from '../osm/read-maxspeed.ts';
import type { DrivingSide } from '../osm/read-placement.ts';
import type { ClassifiedWays, RoadWay } from './classify-ways.ts';
import type { TurnRules } from './read-restrictions.ts';

/** One end of a segment, seen from a node: it leaves `way.nodes[index]` towards `way.nodes[index + step]`. */
export type Half = { readonly way: RoadWay; readonly index: number; readonly step: 1 | -1 };

/** A legal way through a node: in along `from` (seen from the node, so against it), out along `to`. */
export type Movement = { readonly from: Half; readonly to: Half };

/**
 * The roads as a graph on shared node ids only: ways that cross without a shared node do not meet. Halves at a
 * node stand in the order of the ways, so that everything built on them is the same in every run.
 */
export type RoadGraph = {
  /** On which side traffic keeps, as the roads show it. */
  drivingSide(): DrivingSide | undefined;
  /** The number of a `highway=motorway_junction` node, the last point before the split. */
  junctionRefAt(node: number): string | undefined;
  readonly underRoof: readonly RoadWay[];
  halvesAt(node: number): readonly Half[];
  /** The speed limit along a half, away from its node, metres per second. */
  limitMpsOf(half: Half): number;
  /** The half that follows on the same way, where no other road meets it at the far node: most nodes are bends. */
  goOn(half: Half): Half | undefined;
  /** Whether no turn restriction stands against a way through a node. */
  allows: TurnRules['allows'];
  /** Legal movements through a node: one-way rules and turn restrictions kept, U-turns left out. */
  movementsAt(node: number): readonly Movement[];
};

export function makeRoadGraph(
  ways: ClassifiedWays,
  turns: TurnRules,
  junctionRefs: ReadonlyMap<number, string>,
): RoadGraph {
  const halvesAt = remember(ways, (node) => {
    const halves: Half[] = [];
    for (const way of ways.roadsAt(node)) addHalves(halves, way, node);
    return halves;
  });
  const limits = { forward: new Map<RoadWay, number>(), backward: new Map<RoadWay, number>() };
  return {
    underRoof: ways.underRoof,
    drivingSide: once(() => findDrivingSide(ways.listRoads())),
    junctionRefAt: (node) => junctionRefs.get(node),
    halvesAt,
    goOn({ way, index, step }) {
      const next = index + step;
      const isBend = next > 0 && next < way.nodes.length - 1 && ways.isPassedOnce(way.nodes[next] as number);
      return isBend ? { way, index: next, step } : undefined;
    },
    allows: turns.allows,
    limitMpsOf({ way, step }) {
      const along = (step === 1) !== way.reversed ? 'forward' : 'backward';
      const limitMps = limits[along].get(way) ?? readMaxspeed(way.tags, way.roadClass, along).speedMps;
      limits[along].set(way, limitMps);
      return limitMps;
    },
    movementsAt: remember(ways, (node) => listMovements(node, halvesAt(node), turns)),
  };
}

function addHalves(halves: Half[], way: RoadWay, node: number): void {
  for (let index = way.nodes.indexOf(node); index >= 0; index = way.nodes.indexOf(node, index + 1)) {
    if (index > 0) halves.push({ way, index, step: -1 });
    if (index < way.nodes.length - 1) halves.push({ way, index, step: 1 });
  }
}

function listMovements(node: number, halves: readonly Half[], turns: TurnRules): readonly Movement[] {
  const movements: Movement[] = [];
  for (const from of halves) {
    if (!canArrive(from)) continue;
    for (const to of halves) {
      if (to === from || !canLeave(to)) continue;
      if (turns.allows(node, from.way.wayId, to.way.wayId)) movements.push({ from, to });
    }
  }
  return movements;
}

/** Finds something for each node once: the same node gets the same answer, for halves are told apart as objects. */
function remember<T>(ways: ClassifiedWays, find: (node: number) => T): (node: number) => T {
  // As long as it will get: a list that grows by leaps is kept as a slow dictionary.
  const known: (T | undefined)[] = new Array(ways.nodeCount);
  return (node) => {
    const index = ways.indexOf(node);
    if (index < 0) return find(node);
    known[index] ??= find(node);
    return known[index];
  };
}

function once<T>(find: () => T): () => T {
  let found: { readonly value: T } | undefined;
  return () => {
    found ??= { value: find() };
    return found.value;
  };
}

/** Whether vehicles may drive away from the node along the half. */
export function canLeave(half: Half): boolean {
  return half.way.direction !== 'forward' || half.step === 1;
}

/** Whether vehicles may drive towards the node along the half. */
export function canArrive(half: Half): boolean {
  return half.way.direction !== 'forward' || half.step === -1;
}

export function nodeOf(half: Half): number {
  return half.way.nodes[half.index] as number;
}

export function farNode(half: Half): number {
  return half.way.nodes[half.index + half.step] as number;
}

export function positionOf(half: Half): LonLat {
  return half.way.line[half.index] as LonLat;
}

/** The same segment seen from its far end. */
export function turnAround(half: Half): Half {
  return { way: half.way, index: half.index + half.step, step: half.step === 1 ? -1 : 1 };
}

/** The segment's first node in the way: what both of its halves share. */
export function segmentOf(half: Half): number {
  return Math.min(half.index, half.index + half.step);
}
