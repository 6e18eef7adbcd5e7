import { RefusalError } from '../outcome/refusal.ts';
import type { DeltaList } from './delta-list.ts';
import type { ElementFields } from './element-fields.ts';
import type { BlockFrame } from './pbf-frame.ts';

/** A member's kind in the file. */
const WAY = 1;

/** Reads the ids of the ways among the members of the relation that `fields` stands on; refuses 'input-damaged'. */
export function readMemberWays({ bytes, view }: BlockFrame, fields: ElementFields, into: DeltaList): void {
  into.read(view, fields.from[9] as number, fields.end[9] as number);
  const types = fields.from[10] as number;
  if ((fields.end[10] as number) - types !== into.count) {
    throw new RefusalError('input-damaged', { where: 'columns of members that differ in length' });
  }
  let count = 0;
  for (let index = 0; index < into.count; index += 1) {
    if (bytes[types + index] === WAY) into.items[count++] = into.items[index] as number;
  }
  into.count = count;
}
