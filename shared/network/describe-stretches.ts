import { type Lanes, readLanes } from '../osm/read-lanes.ts';
import { type Maxspeed, readMaxspeed } from '../osm/read-maxspeed.ts';
import { type DrivingSide, type Placement, readPlacement } from '../osm/read-placement.ts';
import { readWidth } from '../osm/read-width.ts';
import { type Finding, finding, type Staged, type Subject } from '../outcome/finding.ts';
import type { RoadWay } from './classify-ways.ts';
import type { Assumption, Link, Stretch } from './network.ts';
import { farNode, type Half, nodeOf } from './road-graph.ts';

/** One stretch for each run of a way in a link, with the values that hold there; what was assumed leaves a finding. */
export function describeStretches(
  chain: readonly Half[],
  vertexM: readonly number[],
  findDrivingSide: () => DrivingSide | undefined,
): Staged<readonly Stretch[]> {
  const stretches: Stretch[] = [];
  const findings: Finding[] = [];
  let start = 0;
  for (let i = 1; i <= chain.length; i += 1) {
    const first = chain[start] as Half;
    if (i < chain.length && chain[i]?.way === first.way) continue;
    const described = describe(first, findDrivingSide);
    findings.push(...described.findings);
    stretches.push({
      wayId: first.way.wayId,
      fromNode: nodeOf(first),
      toNode: farNode(chain[i - 1] as Half),
      fromM: vertexM[start] ?? 0,
      toM: vertexM[i] ?? 0,
      ...described.value,
    });
    start = i;
  }
  return { value: stretches, findings };
}

type Described = Omit<Stretch, 'wayId' | 'fromNode' | 'toNode' | 'fromM' | 'toM'>;

/** @param half a segment of the way, seen in the link's direction. */
function describe({ way, step }: Half, findDrivingSide: () => DrivingSide | undefined): Staged<Described> {
  const { tags } = way;
  const read = readValues(way, findDrivingSide);
  // Whether the link runs as the way is drawn in the map data.
  const isOsmForward = (step === 1) !== way.reversed;
  const along = isOsmForward ? read.forward.speedMps : read.backward.speedMps;
  const against = isOsmForward ? read.backward.speedMps : read.forward.speedMps;
  const { lanes, width, placement } = read;
  const value: Described = {
    roadClass: way.roadClass,
    lanes: lanes.lanes,
    speedMps: Math.max(along, against),
    ...(along < against ? { alongMps: along } : {}),
    ...(against < along ? { againstMps: against } : {}),
    ...(width.widthM === undefined ? {} : { widthM: width.widthM }),
    ...(placement.centreLanes === undefined ? {} : { centreLanes: step * placement.centreLanes }),
    layer: readLayer(tags.layer),
    ...(tags.name === undefined ? {} : { name: tags.name }),
    ...(tags['tunnel:name'] === undefined ? {} : { tunnelName: tags['tunnel:name'] }),
    ...(tags.ref === undefined ? {} : { ref: tags.ref }),
    assumed: listAssumed(read),
  };
  return { value, findings: listFindings(way, read) };
}

/** What the tags of a way say, the speeds by the way's own direction; a one-way way has but one. */
type Values = {
  readonly lanes: Lanes;
  readonly forward: Maxspeed;
  readonly backward: Maxspeed;
  readonly width: ReturnType<typeof readWidth>;
  readonly placement: Placement;
};

function readValues(way: RoadWay, findDrivingSide: () => DrivingSide | undefined): Values {
  const { tags, roadClass, direction, reversed } = way;
  const isOneWay = direction === 'forward';
  const lanes = readLanes(tags, roadClass, isOneWay);
  const isCounted = !lanes.assumed && lanes.unreadable === undefined;
  const own = readMaxspeed(tags, roadClass, reversed ? 'backward' : 'forward');
  return {
    lanes,
    forward: own,
    backward: isOneWay ? own : readMaxspeed(tags, roadClass, 'backward'),
    width: readWidth(tags),
    placement: readPlacement(tags, {
      lanes: isCounted ? lanes.lanes : undefined,
      direction,
      reversed,
      findDrivingSide,
    }),
  };
}

function listAssumed({ lanes, forward, backward, width, placement }: Values): readonly Assumption[] {
  return [
    ...(lanes.assumed ? (['lanes'] as const) : []),
    ...(forward.assumed || backward.assumed ? (['maxspeed'] as const) : []),
    ...(forward.variable === true || backward.variable === true ? (['variable maxspeed'] as const) : []),
    ...(width.widthM === undefined ? (['width'] as const) : []),
    ...(isMiddleAssumed(placement) ? (['placement'] as const) : []),
  ];
}

function listFindings(way: RoadWay, read: Values): readonly Finding[] {
  const { lanes, forward, backward, width, placement } = read;
  const findings: Finding[] = [];
  const subject: Subject = { kind: 'way', id: String(way.wayId) };
  const note = (code: Finding['code'], params: Finding['params']) =>
    findings.push(finding(code, subject, params, way.line[0]));
  const speeds = [forward, backward];
  const kmh = Math.round(Math.max(forward.speedMps, backward.speedMps) * 3.6);
  const unread = new Set(speeds.flatMap(({ unreadable }) => unreadable ?? []));
  if (lanes.unreadable !== undefined) note('lanes-unreadable', { value: lanes.unreadable });
  if (lanes.assumed) note('lanes-assumed', { highway: way.roadClass, lanes: lanes.lanes });
  if (unread.size > 0) note('maxspeed-unreadable', { value: [...unread].join(';') });
  if (speeds.some(({ assumed }) => assumed)) note('maxspeed-assumed', { highway: way.roadClass, kmh });
  if (speeds.some(({ variable }) => variable === true)) note('maxspeed-variable', { kmh });
  if (placement.unreadable !== undefined) note('placement-unreadable', { value: placement.unreadable });
  if (placement.transition === true) note('placement-transition', {});
  if (width.unreadable !== undefined) note('width-unreadable', { value: width.unreadable });
  if (way.direction === 'reversible') note('oneway-reversible', { value: way.tags.oneway ?? '' });
  return findings;
}

function isMiddleAssumed({ unreadable, transition }: Placement): boolean {
  return unreadable !== undefined || transition === true;
}

/** A tunnel without a layer lies one below the ground. */
function readLayer(text: string | undefined): number {
  return text !== undefined && /^-?\d{1,2}$/.test(text) ? Number(text) : -1;
}

const ASSUMPTIONS: readonly Assumption[] = ['lanes', 'maxspeed', 'variable maxspeed', 'width', 'placement'];

/** The values that hold over the greatest part of a link's length; a tie goes to the stretch that comes first. */
export function summarize(
  stretches: readonly Stretch[],
): Pick<Link, 'roadClass' | 'lanes' | 'speedMps' | 'layer' | 'assumed'> {
  const assumed = new Set(stretches.flatMap((stretch) => stretch.assumed));
  return {
    roadClass: dominant(stretches, (stretch) => stretch.roadClass),
    lanes: dominant(stretches, (stretch) => stretch.lanes),
    speedMps: dominant(stretches, (stretch) => stretch.speedMps),
    layer: dominant(stretches, (stretch) => stretch.layer),
    assumed: ASSUMPTIONS.filter((name) => assumed.has(name)),
  };
}

function dominant<V>(stretches: readonly Stretch[], read: (stretch: Stretch) => V): V {
  return longestOf(stretches, read) as V;
}

/** The value that holds over the greatest length, undefined values passed over. */
export function longestOf<V>(
  stretches: readonly Stretch[],
  read: (stretch: Stretch) => V | undefined,
): V | undefined {
  const lengths = new Map<V, number>();
  for (const stretch of stretches) {
    const value = read(stretch);
    if (value !== undefined) lengths.set(value, (lengths.get(value) ?? 0) + stretch.toM - stretch.fromM);
  }
  let best: V | undefined;
  let bestM = -1;
  for (const [value, lengthM] of lengths) if (lengthM > bestM) [best, bestM] = [value, lengthM];
  return best;
}
