import { RefusalError } from '../outcome/refusal.ts';
import { checkSize, MAX_MEMBERS } from './check-size.ts';
import type { OsmMember } from './extract.ts';
import type { Collector } from './make-collector.ts';
import { PackedField } from './packed-field.ts';
import type { BlockScale } from './pbf-block.ts';
import { type StringTable, toTags } from './string-table.ts';
import type { WireCursor } from './wire-cursor.ts';

const TYPES = ['node', 'way', 'relation'] as const;

/** Reads one relation. */
export function fromRelation(
  cursor: WireCursor,
  scale: Pick<BlockScale, 'strings'>,
  collector: Pick<Collector, 'relation'>,
): void {
  const keys = new PackedField();
  const values = new PackedField();
  const roles = new PackedField();
  const refs = new PackedField();
  const types = new PackedField();
  let id = Number.NaN;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    const field = tag >>> 3;
    if (tag === 8) id = cursor.readSigned();
    else if (field === 2) keys.take(cursor, tag);
    else if (field === 3) values.take(cursor, tag);
    else if (field === 8) roles.take(cursor, tag);
    else if (field === 9) refs.take(cursor, tag);
    else if (field === 10) types.take(cursor, tag);
    else cursor.skip(tag);
  }
  const members = toMembers(roles, refs, types, scale.strings);
  collector.relation(id, members, toTags(keys, values, scale.strings));
}

function toMembers(
  rolesField: PackedField,
  refsField: PackedField,
  typesField: PackedField,
  strings: StringTable,
): OsmMember[] {
  const roles = rolesField.cursor();
  const refs = refsField.cursor();
  const types = typesField.cursor();
  const members: OsmMember[] = [];
  let ref = 0;
  while (!refs.done) {
    ref += refs.readZigzag();
    const type = TYPES[types.readUnsigned()];
    if (type === undefined) throw damaged('a member of an unknown kind');
    members.push({ type, ref, role: strings.get(roles.readUnsigned()) });
    checkSize(members.length, MAX_MEMBERS, 'members in one relation');
  }
  if (!roles.done || !types.done) throw damaged('columns of members that differ in length');
  return members;
}

function damaged(where: string): RefusalError {
  return new RefusalError('input-damaged', { where });
}
