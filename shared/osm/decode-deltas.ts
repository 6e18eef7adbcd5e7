import { RefusalError } from '../outcome/refusal.ts';

const LIMIT = 2 ** 53;
/** The highest bit of each of four bytes: set in all bytes of a number but its last. */
const MORE = 0x80808080;

/**
 * Decodes a packed column of `sint64` differences into running sums and returns how many there are. `out` must have
 * room for as many numbers as there are bytes. The hottest loop of the import: everything stays in local variables;
 * numbers of two to four bytes are cut out of one 32-bit word without a branch, because their lengths cannot be
 * foreseen, and a processor that guesses wrong loses more than the work takes. Refuses 'input-damaged'.
 */
export function decodeDeltas(view: DataView, from: number, end: number, out: Float64Array): number {
  const lastWord = view.byteLength - 4;
  let at = from;
  let value = 0;
  let count = 0;
  while (at < end) {
    const word = at <= lastWord ? view.getInt32(at, true) : MORE;
    if ((word & 128) === 0) {
      value += ((word & 127) >>> 1) ^ -(word & 1);
      at += 1;
      out[count++] = value;
      continue;
    }
    const ends = ~word & MORE;
    if (ends !== 0) {
      const first = ends & -ends;
      const own = word & ((first << 1) - 1);
      const bits =
        (own & 0x7f) | ((own >>> 1) & 0x3f80) | ((own >>> 2) & 0x1fc000) | ((own >>> 3) & 0xfe00000);
      value += (bits >>> 1) ^ -(bits & 1);
      at += (39 - Math.clz32(first)) >>> 3;
    } else {
      let factor = 1;
      let whole = 0;
      let byte = 128;
      while (byte >= 128) {
        if (at >= end) throw new RefusalError('input-damaged');
        byte = view.getUint8(at++);
        whole += (byte & 127) * factor;
        factor *= 128;
      }
      value += whole % 2 === 0 ? whole / 2 : -(whole + 1) / 2;
    }
    out[count++] = value;
  }
  if (at !== end || !(Math.abs(value) < LIMIT)) throw new RefusalError('input-damaged');
  return count;
}
