import { TYPE_KEY, WAY_KEY } from './block-strings.ts';
import { DeltaList } from './delta-list.ts';
import { ElementFields } from './element-fields.ts';
import type { OsmRelation } from './extract.ts';
import { includesSorted } from './id-ranges.ts';
import { wantsRelation } from './keep.ts';
import { makeFrameReader } from './pbf-frame.ts';
import { fromRelation } from './pbf-relations.ts';
import { readMemberWays } from './read-member-ways.ts';
import { WireCursor } from './wire-cursor.ts';

type Sink = Parameters<typeof fromRelation>[2];

/**
 * Makes the reader of relations: those that are kept for their tags and have one of `ways` (ascending ids) as a
 * member. Refuses 'input-damaged'.
 */
export function makeRelationPicker(ways: Float64Array): (bytes: Uint8Array) => OsmRelation[] {
  const readFrame = makeFrameReader();
  const fields = new ElementFields();
  const refs = new DeltaList();
  return (bytes) => {
    const frame = readFrame(bytes);
    const { relations, strings } = frame;
    const picked: OsmRelation[] = [];
    const sink: Sink = {
      relation: (id, members, tags = {}) => picked.push({ id, members, tags }),
    };
    for (let index = 0; index < relations.count; index += 1) {
      const from = relations.from[index] as number;
      const end = relations.end[index] as number;
      fields.read(bytes, from, end);
      fields.readKeys(strings);
      if ((fields.keyBits & TYPE_KEY) === 0) continue;
      readMemberWays(frame, fields, refs);
      // Before its tags are looked at, because nearly all relations are far from the picked ways.
      if (!includesAny(ways, refs)) continue;
      if (!wantsRelation(fields.readTags(strings, WAY_KEY | TYPE_KEY))) continue;
      fromRelation(new WireCursor(bytes, from, end), frame, sink);
    }
    return picked;
  };
}

function includesAny(sorted: Float64Array, { items, count }: DeltaList): boolean {
  for (let index = 0; index < count; index += 1) {
    if (includesSorted(sorted, items[index] as number)) return true;
  }
  return false;
}
