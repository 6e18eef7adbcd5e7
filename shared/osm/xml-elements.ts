import type { BBox } from '../geodesy/lon-lat.ts';
import { RefusalError } from '../outcome/refusal.ts';
import { checkSize, MAX_MEMBERS, MAX_TAGS, MAX_WAY_NODES } from './check-size.ts';
import type { OsmExtract, OsmMember } from './extract.ts';
import type { Collector } from './make-collector.ts';
import { toBBox } from './to-bbox.ts';
import type { XmlEvents } from './xml-parser.ts';

type Attributes = Readonly<Record<string, string>>;

/** What the parser reports, turned into elements for the collector. */
export type XmlElements = XmlEvents & { finish(): OsmExtract };

type Current = {
  readonly kind: 'node' | 'way' | 'relation';
  readonly attributes: Attributes;
  readonly tags: Record<string, string>;
  tagCount: number;
  readonly nodes: number[];
  readonly members: OsmMember[];
};

/** osm, element, member, node of a member: nothing is deeper. */
const MAX_DEPTH = 16;

/** Makes the part of the XML decoder that knows what the element names mean. */
export function makeXmlElements(collector: Collector): XmlElements {
  let depth = 0;
  let current: Current | undefined;
  let remark: string | undefined;
  let source: OsmExtract['source'] = { format: 'osm-xml' };
  let bbox: BBox | undefined;
  return {
    hears: 'remark',
    open(name, attributes) {
      depth += 1;
      if (depth > MAX_DEPTH) throw new RefusalError('input-damaged', { where: 'elements nested too deep' });
      if (depth === 1) source = { ...source, ...fromRoot(name, attributes) };
      else if (depth > 2) addChild(current, name, attributes, collector);
      else if (name === 'node' || name === 'way' || name === 'relation') {
        current = { kind: name, attributes, tags: {}, tagCount: 0, nodes: [], members: [] };
      } else if (name === 'bounds') {
        const { minlon, minlat, maxlon, maxlat } = attributes;
        bbox = toBBox(toNumber(minlon), toNumber(minlat), toNumber(maxlon), toNumber(maxlat));
      } else if (name === 'meta' && attributes.osm_base !== undefined) {
        source = { ...source, timestamp: attributes.osm_base };
      } else if (name === 'remark') remark = '';
    },
    text(text) {
      if (remark !== undefined && depth === 2) remark += text;
    },
    close() {
      depth -= 1;
      if (depth !== 1) return;
      const complaint = remark?.trim() ?? '';
      if (complaint !== '') throw new RefusalError('overpass-remark', { remark: complaint });
      remark = undefined;
      if (current !== undefined) addElement(current, collector);
      current = undefined;
    },
    finish: () => collector.finish(source, bbox),
  };
}

function fromRoot(name: string, attributes: Attributes): { generator?: string; timestamp?: string } {
  if (name.toLowerCase() === 'html') throw new RefusalError('input-html');
  if (name !== 'osm') throw new RefusalError('input-unknown-format');
  const { generator, timestamp } = attributes;
  return {
    ...(generator === undefined ? {} : { generator }),
    ...(timestamp === undefined ? {} : { timestamp }),
  };
}

function addChild(
  current: Current | undefined,
  name: string,
  attributes: Attributes,
  collector: Collector,
): void {
  if (current === undefined) return;
  if (name === 'tag') {
    const { k, v } = attributes;
    if (k === undefined || v === undefined) throw damaged(current, 'a tag without k or v');
    current.tags[k] = v;
    current.tagCount += 1;
    checkSize(current.tagCount, MAX_TAGS, 'tags');
  } else if (name === 'nd' && current.kind === 'way') {
    const id = toId(attributes.ref);
    current.nodes.push(id);
    checkSize(current.nodes.length, MAX_WAY_NODES, 'nodes in one way');
    addPosition(id, attributes, collector);
  } else if (name === 'member' && current.kind === 'relation') {
    const { type, role = '' } = attributes;
    if (type !== 'node' && type !== 'way' && type !== 'relation')
      throw damaged(current, 'a member of no kind');
    const ref = toId(attributes.ref);
    current.members.push({ type, ref, role });
    checkSize(current.members.length, MAX_MEMBERS, 'members in one relation');
    if (type === 'node') addPosition(ref, attributes, collector);
  }
}

/** Servers can be asked to repeat positions where nodes are mentioned. */
function addPosition(id: number, { lat, lon }: Attributes, collector: Collector): void {
  if (lat !== undefined && lon !== undefined) collector.position(id, toNumber(lon), toNumber(lat));
}

function addElement({ kind, attributes, tags, nodes, members }: Current, collector: Collector): void {
  const { id, action, visible, lon, lat } = attributes;
  if (action === 'delete' || visible === 'false') return;
  if (kind === 'way') collector.way(toId(id), nodes, tags);
  else if (kind === 'relation') collector.relation(toId(id), members, tags);
  // A node can be mentioned without a position; then it is as if the file did not hold it.
  else if (lon !== undefined || lat !== undefined)
    collector.node(toId(id), toNumber(lon), toNumber(lat), tags);
}

/** NaN for what is no number, which the collector refuses. */
function toNumber(text: string | undefined): number {
  return text === undefined || text.trim() === '' ? Number.NaN : Number(text);
}

function toId(text: string | undefined): number {
  if (text !== undefined && /^-?\d{1,16}$/.test(text)) return Number(text);
  throw new RefusalError('input-damaged', { where: `${text?.slice(0, 40) ?? 'nothing'} instead of an id` });
}

function damaged(current: Current, what: string): RefusalError {
  return new RefusalError('input-damaged', { where: `${current.kind}/${current.attributes.id}: ${what}` });
}
