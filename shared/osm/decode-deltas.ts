import { RefusalError } from '../outcome/refusal.ts';

const LIMIT = 2 ** 53;
/** The highest bit of each of four bytes: set in all bytes of a number but its last. */
const MORE = 0x80808080 | 0;
/** Those bits of two numbers of two bytes each. */
const TWO_PAIRS = 0x00800080;

/**
 * Decodes a packed column of `sint64` differences into running sums and returns how many there are. `out` must have
 * room for as many numbers as there are bytes. The hottest loop of the import: everything stays in local variables,
 * and as many numbers as possible are cut out of one 32-bit word: four of one byte, as ids mostly are, or two of two,
 * as steps between neighbouring places are, else one, without a branch on its length. Refuses 'input-damaged'.
 */
export function decodeDeltas(view: DataView, from: number, end: number, out: Float64Array): number {
  const lastInView = view.byteLength - 4;
  const lastInColumn = end - 4;
  let at = from;
  let value = 0;
  let count = 0;
  while (at < end) {
    const word = at <= lastInView ? view.getInt32(at, true) : MORE;
    const more = word & MORE;
    if (more === TWO_PAIRS && at <= lastInColumn) {
      value += toSigned(joinPair(word));
      out[count++] = value;
      value += toSigned(joinPair(word >>> 16));
      at += 4;
    } else if (more === 0 && at <= lastInColumn) {
      value += toSigned(word & 127);
      out[count++] = value;
      value += toSigned((word >>> 8) & 127);
      out[count++] = value;
      value += toSigned((word >>> 16) & 127);
      out[count++] = value;
      value += toSigned(word >>> 24);
      at += 4;
    } else if (more !== MORE) {
      const ends = more ^ MORE;
      const last = ends & -ends;
      value += toSigned(joinAll(word & ((last << 1) - 1)));
      at += (39 - Math.clz32(last)) >>> 3;
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

/** The sign is the lowest bit. */
function toSigned(bits: number): number {
  return (bits >>> 1) ^ -(bits & 1);
}

/** The seven bits that count of each of the two lowest bytes. */
function joinPair(word: number): number {
  return (word & 0x7f) | ((word >>> 1) & 0x3f80);
}

/** The seven bits that count of each byte. */
function joinAll(word: number): number {
  return joinPair(word) | ((word >>> 2) & 0x1fc000) | ((word >>> 3) & 0xfe00000);
}
