import { readSync } from 'node:fs';
import { RefusalError } from '../../shared/outcome/refusal.ts';

/** Fills `buffer` from this place of an open file; refuses 'input-truncated' where the file ends before. */
export function readAt(file: number, buffer: Uint8Array, position: number): void {
  let at = 0;
  while (at < buffer.length) {
    const count = readSync(file, buffer, at, buffer.length - at, position + at);
    if (count === 0) throw new RefusalError('input-truncated');
    at += count;
  }
}
