import { createHash } from 'node:crypto';
import { createInterface } from 'node:readline';
import { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { createGunzip, createGzip } from 'node:zlib';

/** Bytes as they are kept, named by what they hold. */
export type Blob = { readonly id: string; readonly bytes: Uint8Array };

/** Packs rows as lines of JSON, gzip: none of them may be longer than a string can be, all together may. */
export async function packRows(rows: Iterable<unknown>): Promise<Blob> {
  const hash = createHash('sha256');
  function* lines() {
    for (const row of rows) {
      const line = `${JSON.stringify(row)}\n`;
      hash.update(line);
      yield line;
    }
  }
  const bytes = await buffer(Readable.from(lines()).pipe(createGzip({ level: 4 })));
  return { id: hash.digest('hex').slice(0, 32), bytes };
}

/** Gives back what packRows packed; damage is a fault of the store and throws. */
export async function unpackRows(bytes: Uint8Array): Promise<readonly unknown[]> {
  const input = Readable.from([bytes]).pipe(createGunzip());
  const rows: unknown[] = [];
  for await (const line of createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY })) {
    rows.push(JSON.parse(line));
  }
  return rows;
}

/** Names bytes that are packed already. */
export function nameBytes(bytes: Uint8Array): Blob {
  return { id: createHash('sha256').update(bytes).digest('hex').slice(0, 32), bytes };
}
