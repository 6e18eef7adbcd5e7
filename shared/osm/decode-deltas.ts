import { RefusalError } from '../outcome/refusal.ts';

const LIMIT = 2 ** 53;

/**
 * Decodes a packed column of `sint64` differences into running sums and returns how many there are. `out` must have
 * room for as many numbers as there are bytes. The hottest loop of the import: everything stays in local variables,
 * and short numbers, as nearly all are, in 32 bits. Refuses 'input-damaged'.
 */
export function decodeDeltas(bytes: Uint8Array, from: number, end: number, out: Float64Array): number {
  let at = from;
  let value = 0;
  let count = 0;
  while (at < end) {
    let byte = bytes[at++] as number;
    let low = byte & 127;
    if (byte >= 128) {
      byte = bytes[at++] as number;
      low |= (byte & 127) << 7;
      if (byte >= 128) {
        byte = bytes[at++] as number;
        low |= (byte & 127) << 14;
        if (byte >= 128) {
          byte = bytes[at++] as number;
          low |= (byte & 127) << 21;
        }
      }
    }
    if (byte < 128) value += (low >>> 1) ^ -(low & 1);
    else {
      let factor = 2 ** 28;
      let whole = low;
      do {
        byte = bytes[at++] as number;
        whole += (byte & 127) * factor;
        factor *= 128;
      } while (byte >= 128 && at < end);
      value += whole % 2 === 0 ? whole / 2 : -(whole + 1) / 2;
    }
    out[count++] = value;
  }
  if (at !== end || !(Math.abs(value) < LIMIT)) throw new RefusalError('input-damaged');
  return count;
}
