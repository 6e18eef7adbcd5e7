import { readLanes } from '../osm/read-lanes.ts';
import { readMaxspeed } from '../osm/read-maxspeed.ts';
import { readWidth } from '../osm/read-width.ts';
import { type Finding, finding, type Staged, type Subject } from '../outcome/finding.ts';
import type { RoadWay } from './classify-ways.ts';
import type { Assumption, Link, Stretch } from './network.ts';
import { farNode, type Half, nodeOf } from './road-graph.ts';

/** One stretch for each run of a way in a link, with the values that hold there; what was assumed leaves a finding. */
export function describeStretches(
  chain: readonly Half[],
  vertexM: readonly number[],
): Staged<readonly Stretch[]> {
  const stretches: Stretch[] = [];
  const findings: Finding[] = [];
  let start = 0;
  for (let i = 1; i <= chain.length; i += 1) {
    const first = chain[start] as Half;
    if (i < chain.length && chain[i]?.way === first.way) continue;
    const described = describe(first.way, (first.step === 1) !== first.way.reversed);
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

/** @param isOsmForward the link runs as the way is drawn in the map data. */
function describe(way: RoadWay, isOsmForward: boolean): Staged<Described> {
  const { tags, roadClass } = way;
  const subject: Subject = { kind: 'way', id: String(way.wayId) };
  const at = way.line[0];
  const lanes = readLanes(tags, roadClass, way.direction === 'forward');
  const [along, against] = isOsmForward
    ? (['forward', 'backward'] as const)
    : (['backward', 'forward'] as const);
  const speed = readMaxspeed(tags, roadClass, along);
  const back = way.direction === 'forward' ? speed : readMaxspeed(tags, roadClass, against);
  const width = readWidth(tags);
  const findings: Finding[] = [];
  const note = (code: Finding['code'], params: Finding['params']) =>
    findings.push(finding(code, subject, params, at));
  if (lanes.unreadable !== undefined) note('lanes-unreadable', { value: lanes.unreadable });
  if (lanes.assumed) note('lanes-assumed', { highway: roadClass, lanes: lanes.lanes });
  if (speed.unreadable !== undefined) note('maxspeed-unreadable', { value: speed.unreadable });
  if (speed.assumed) note('maxspeed-assumed', { highway: roadClass, kmh: Math.round(speed.speedMps * 3.6) });
  if (width.unreadable !== undefined) note('width-unreadable', { value: width.unreadable });
  if (way.direction === 'reversible') note('oneway-reversible', { value: tags.oneway ?? '' });
  const assumed: Assumption[] = [
    ...(lanes.assumed ? (['lanes'] as const) : []),
    ...(speed.assumed ? (['maxspeed'] as const) : []),
    ...(width.widthM === undefined ? (['width'] as const) : []),
  ];
  const value: Described = {
    roadClass,
    lanes: lanes.lanes,
    speedMps: Math.max(speed.speedMps, back.speedMps),
    ...(speed.speedMps < back.speedMps ? { alongMps: speed.speedMps } : {}),
    ...(back.speedMps < speed.speedMps ? { againstMps: back.speedMps } : {}),
    ...(width.widthM === undefined ? {} : { widthM: width.widthM }),
    layer: readLayer(tags.layer),
    ...(tags.name === undefined ? {} : { name: tags.name }),
    ...(tags['tunnel:name'] === undefined ? {} : { tunnelName: tags['tunnel:name'] }),
    ...(tags.ref === undefined ? {} : { ref: tags.ref }),
    assumed,
  };
  return { value, findings };
}

/** A tunnel without a layer lies one below the ground. */
function readLayer(text: string | undefined): number {
  return text !== undefined && /^-?\d{1,2}$/.test(text) ? Number(text) : -1;
}

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
    assumed: (['lanes', 'maxspeed', 'width'] as const).filter((name) => assumed.has(name)),
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
