import { segmentBearingDeg } from '../geodesy/segment.ts';
import type { RoadClass } from '../osm/read-highway.ts';
import { readLanes } from '../osm/read-lanes.ts';
import type { LinkSet } from './build-links.ts';
import type { Branch } from './network.ts';
import { type Half, type Movement, positionOf } from './road-graph.ts';

/** How far along a branch its heading is taken: long enough to leave the splitting nose behind. */
const HEADING_M = 30;

/**
 * Describes the ways to leave a node. For every way to arrive one branch is the main carriageway; a branch is an
 * exit where it is the main one for nobody.
 *
 * @param movements the legal movements through the node that start underground.
 * @param junctionRef the number on the node, which an exit carries unless its way has one of its own.
 */
export function describeBranches(
  movements: readonly Movement[],
  links: LinkSet,
  junctionRef: string | undefined,
): readonly Branch[] {
  const arrivals = new Map<Half, Half[]>();
  for (const { from, to } of movements) arrivals.set(from, [...(arrivals.get(from) ?? []), to]);
  const found = new Map<Half, { main: boolean; reason: Branch['reason'] }>();
  for (const [from, choices] of arrivals) {
    if (choices.length < 2) continue;
    const picked = pickMain(from, choices);
    for (const choice of choices) {
      const before = found.get(choice);
      const main = choice === picked.main || before?.main === true;
      found.set(choice, { main, reason: picked.reason });
    }
  }
  // Where one arrival has no choice, its only way on is the main carriageway for it.
  for (const choices of arrivals.values()) {
    const [only] = choices;
    const branch = only === undefined || choices.length > 1 ? undefined : found.get(only);
    if (only !== undefined && branch !== undefined) found.set(only, { ...branch, main: true });
  }
  return [...found].map(([half, { main, reason }]) => {
    const linkId = links.findLink(half)?.id;
    const label = labelOf(half, main ? undefined : junctionRef);
    return {
      wayId: half.way.wayId,
      ...(linkId === undefined ? {} : { linkId }),
      bearingDeg: Math.round(headingDeg(half) * 10) / 10,
      exit: !main,
      reason,
      ...(label === undefined ? {} : { label }),
    };
  });
}

/** The branch that goes on as the same carriageway, and the first difference that tells it from the others. */
function pickMain(from: Half, choices: readonly Half[]): { main: Half; reason: Branch['reason'] } {
  const tests: readonly { reason: Branch['reason']; score: (half: Half) => number }[] = [
    { reason: 'class', score: (half) => -Math.abs(rank(half.way.roadClass) - rank(from.way.roadClass)) },
    { reason: 'name', score: (half) => (isRoundabout(half) && isRoundabout(from) ? 1 : 0) },
    { reason: 'junction-ref', score: (half) => (half.way.tags['junction:ref'] === undefined ? 1 : 0) },
    { reason: 'destination', score: (half) => (half.way.tags.destination === undefined ? 1 : 0) },
    { reason: 'name', score: (half) => sameName(from, half) },
    { reason: 'lanes', score: (half) => lanesOf(half) },
    { reason: 'angle', score: (half) => -turnDeg(from, half) },
  ];
  let left = choices;
  for (const { reason, score } of tests) {
    const best = Math.max(...left.map(score));
    const kept = left.filter((half) => score(half) === best);
    if (kept.length === 1 && left.length > 1) return { main: kept[0] as Half, reason };
    left = kept;
  }
  return { main: left[0] as Half, reason: 'angle' };
}

const ORDER: readonly RoadClass[] = [
  'motorway',
  'trunk',
  'primary',
  'secondary',
  'tertiary',
  'unclassified',
  'residential',
  'living_street',
  'service',
  'road',
];

/** Road classes in order of weight; a ramp counts half a step below its road. */
function rank(roadClass: RoadClass): number {
  const isLink = roadClass.endsWith('_link');
  return ORDER.indexOf(roadClass.replace('_link', '') as RoadClass) + (isLink ? 0.5 : 0);
}

function isRoundabout(half: Half): boolean {
  return half.way.tags.junction === 'roundabout' || half.way.tags.junction === 'circular';
}

function sameName(from: Half, to: Half): number {
  const [a, b] = [from.way.tags, to.way.tags];
  if (a.ref !== undefined && a.ref === b.ref) return 2;
  return a.name !== undefined && a.name === b.name ? 1 : 0;
}

function lanesOf(half: Half): number {
  return readLanes(half.way.tags, half.way.roadClass, half.way.direction === 'forward').lanes;
}

function turnDeg(from: Half, to: Half): number {
  const turn = headingDeg(to) - (headingDeg(from) + 180);
  return Math.abs((((turn % 360) + 540) % 360) - 180);
}

/** The direction in which a half leaves its node, degrees from north, taken HEADING_M on or at the way's end. */
export function headingDeg(half: Half): number {
  const { line } = half.way;
  const start = positionOf(half);
  let leftM = HEADING_M;
  let index = half.index;
  while (line[index + half.step] !== undefined && leftM > 0) {
    leftM -= planarM(line[index] as Position, line[index + half.step] as Position);
    index += half.step;
  }
  return segmentBearingDeg(start, line[index] as Position);
}

type Position = Half['way']['line'][number];

function planarM(a: Position, b: Position): number {
  const metresPerDegree = 111_195;
  return metresPerDegree * Math.hypot(b[1] - a[1], (b[0] - a[0]) * Math.cos((a[1] * Math.PI) / 180));
}

function labelOf(half: Half, junctionRef: string | undefined): string | undefined {
  const { tags } = half.way;
  const exit = tags['junction:ref'] ?? junctionRef;
  const where = tags.destination ?? tags['destination:ref'] ?? tags['tunnel:name'] ?? tags.name ?? tags.ref;
  const place = where?.replaceAll(';', ' · ');
  if (exit !== undefined && place !== undefined) return `${exit} ${place}`;
  return exit ?? place;
}
