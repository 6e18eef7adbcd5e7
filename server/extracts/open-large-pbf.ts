import { closeSync, fstatSync, openSync } from 'node:fs';
import { FORMAT_BYTES, findFormat } from '../../shared/osm/find-format.ts';
import { readAt } from './read-at.ts';

/** An open file, to be closed by whoever reads it. */
export type LargeFileHandle = { readonly file: number; readonly size: number };

/**
 * Opens a file if it is a PBF file of more than `fromBytes` and at most `maxBytes`; undefined for all others, which
 * are read from their start to their end, and refused there if they cannot be read.
 */
export function openLargePbf(path: string, fromBytes: number, maxBytes: number): LargeFileHandle | undefined {
  let file: number;
  try {
    file = openSync(path, 'r');
  } catch {
    return undefined;
  }
  try {
    const stat = fstatSync(file);
    if (stat.isFile() && stat.size > fromBytes && stat.size <= maxBytes) {
      const head = new Uint8Array(Math.min(FORMAT_BYTES, stat.size));
      readAt(file, head, 0);
      if (findFormat(head) === 'pbf') return { file, size: stat.size };
    }
  } catch {
    // What cannot be read now is refused, with the reason, by the reader of streams.
  }
  closeSync(file);
  return undefined;
}
