import { RefusalError } from '../outcome/refusal.ts';
import { checkSize, MAX_MEMBERS, MAX_TAGS, MAX_WAY_NODES } from './check-size.ts';
import type { OsmMember, Tags } from './extract.ts';
import type { Collector } from './make-collector.ts';

type Raw = Readonly<Record<string, unknown>>;

/** Makes the part of the JSON decoder that checks each parsed element's shape and hands it to the collector. */
export function makeJsonElements(collector: Collector): { add(element: unknown): void } {
  return {
    add(element) {
      const raw = element as Raw;
      if (raw.type === 'node') addNode(raw, collector);
      else if (raw.type === 'way') addWay(raw, collector);
      else if (raw.type === 'relation') addRelation(raw, collector);
      else if (typeof raw.type !== 'string') throw damaged(raw, 'it has no type');
      // Others ("count", "area", …) say nothing about roads.
    },
  };
}

function addNode(raw: Raw, collector: Collector): void {
  const { id, lon, lat } = raw;
  // Asked for without positions, a node says nothing; then it is as if the file did not hold it.
  if (lon === undefined && lat === undefined) return;
  collector.node(toId(id, raw), toNumber(lon, raw), toNumber(lat, raw), toTags(raw));
}

function addWay(raw: Raw, collector: Collector): void {
  const nodes = toIds(raw, 'nodes');
  checkSize(nodes.length, MAX_WAY_NODES, 'nodes in one way');
  collector.way(toId(raw.id, raw), nodes, toTags(raw));
  const geometry = toList(raw, 'geometry');
  if (geometry.length === 0) return;
  if (geometry.length !== nodes.length) throw damaged(raw, 'its geometry is not as long as its nodes');
  // A null stands for a node outside the area that was asked for.
  geometry.forEach((place, index) => {
    if (place !== null) addPosition(nodes[index] as number, place, raw, collector);
  });
}

function addRelation(raw: Raw, collector: Collector): void {
  const list = toList(raw, 'members');
  checkSize(list.length, MAX_MEMBERS, 'members in one relation');
  const members = list.map((member) => toMember(member, raw));
  collector.relation(toId(raw.id, raw), members, toTags(raw));
  for (const [index, { type, ref }] of members.entries()) {
    const { lat } = list[index] as Raw;
    if (type === 'node' && lat !== undefined) addPosition(ref, list[index], raw, collector);
  }
}

function toMember(member: unknown, raw: Raw): OsmMember {
  if (!isRecord(member)) throw damaged(raw, 'a member is not an object');
  const { type, ref, role = '' } = member;
  if (type !== 'node' && type !== 'way' && type !== 'relation') throw damaged(raw, 'a member is of no kind');
  if (typeof role !== 'string') throw damaged(raw, 'a role is not a text');
  return { type, ref: toId(ref, raw), role };
}

function addPosition(id: number, place: unknown, raw: Raw, collector: Collector): void {
  if (!isRecord(place)) throw damaged(raw, 'a position is not an object');
  collector.position(id, toNumber(place.lon, raw), toNumber(place.lat, raw));
}

function toTags(raw: Raw): Tags | undefined {
  if (raw.tags === undefined) return undefined;
  if (!isRecord(raw.tags)) throw damaged(raw, 'its tags are not an object');
  let count = 0;
  for (const key in raw.tags) {
    count += 1;
    if (typeof raw.tags[key] !== 'string') throw damaged(raw, 'a tag is not a text');
  }
  checkSize(count, MAX_TAGS, 'tags');
  return raw.tags as Tags;
}

function toList(raw: Raw, key: string): readonly unknown[] {
  const list = raw[key] ?? [];
  if (!Array.isArray(list)) throw damaged(raw, `its ${key} are not a list`);
  return list;
}

function toIds(raw: Raw, key: string): readonly number[] {
  const list = toList(raw, key);
  for (const id of list) toId(id, raw);
  return list as readonly number[];
}

function toId(id: unknown, raw: Raw): number {
  if (typeof id !== 'number') throw damaged(raw, 'an id is not a number');
  return id;
}

function toNumber(value: unknown, raw: Raw): number {
  if (typeof value !== 'number') throw damaged(raw, 'a position is not a number');
  return value;
}

function isRecord(value: unknown): value is Raw {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function damaged(raw: Raw, what: string): RefusalError {
  const name = `${String(raw.type).slice(0, 20)}/${String(raw.id).slice(0, 20)}`;
  return new RefusalError('input-damaged', { where: `${name}: ${what}` });
}
