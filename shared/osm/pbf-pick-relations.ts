import { TYPE_KEY, WAY_KEY } from './block-strings.ts';
import { ElementFields } from './element-fields.ts';
import type { OsmRelation } from './extract.ts';
import { includesSorted } from './id-ranges.ts';
import { wantsRelation } from './keep.ts';
import { readBlockFrame, visitBlock } from './pbf-frame.ts';
import { fromRelation } from './pbf-relations.ts';
import { WireCursor } from './wire-cursor.ts';

/**
 * Makes the reader of relations: those that are kept for their tags and have one of `ways` (ascending ids) as a
 * member. Refuses 'input-damaged'.
 */
export function makeRelationPicker(ways: Float64Array): (bytes: Uint8Array) => OsmRelation[] {
  const fields = new ElementFields();
  return (bytes) => {
    const frame = readBlockFrame(bytes);
    const picked: OsmRelation[] = [];
    const sink = {
      relation(id: number, members: OsmRelation['members'], tags: OsmRelation['tags'] = {}) {
        if (members.some(({ type, ref }) => type === 'way' && includesSorted(ways, ref))) {
          picked.push({ id, members, tags });
        }
      },
    };
    visitBlock(frame, {
      relation(from, end) {
        fields.read(bytes, from, end);
        if (!wantsRelation(fields.readTags(frame.strings, WAY_KEY | TYPE_KEY))) return;
        fromRelation(new WireCursor(bytes, from, end), frame, sink);
      },
    });
    return picked;
  };
}
