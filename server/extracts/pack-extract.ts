import { createHash } from 'node:crypto';
import { createInterface } from 'node:readline';
import { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { createGunzip, createGzip } from 'node:zlib';
import type { OsmExtract } from '../../shared/osm/extract.ts';

/** An extract as it is kept: gzip, named by what it holds. */
export type PackedExtract = { readonly id: string; readonly bytes: Uint8Array };

/** One line of the packed text holds this many elements: a whole city in one would be longer than a string may be. */
const PER_LINE = 5000;
const PARTS = ['nodes', 'ways', 'relations'] as const;

/**
 * Packs an extract: its source on the first line, then its elements in rows of JSON, gzip. The id is a hash of the
 * elements and the area, so that equal data have one id, whatever file they came in.
 */
export async function packExtract(extract: OsmExtract): Promise<PackedExtract> {
  const hash = createHash('sha256');
  function* lines() {
    yield `${JSON.stringify(extract.source)}\n`;
    for (const line of listLines(extract)) {
      hash.update(line);
      yield line;
    }
  }
  const bytes = await buffer(Readable.from(lines()).pipe(createGzip({ level: 6 })));
  return { id: hash.digest('hex').slice(0, 32), bytes };
}

function* listLines(extract: OsmExtract): Generator<string> {
  yield `${JSON.stringify(extract.bbox ?? null)}\n`;
  for (const part of PARTS) {
    for (let i = 0; i < extract[part].length; i += PER_LINE) {
      yield `${JSON.stringify([part, extract[part].slice(i, i + PER_LINE)])}\n`;
    }
  }
}

/** Gives back what packExtract packed; damage is a fault of the store and throws. */
export async function unpackExtract(bytes: Uint8Array): Promise<OsmExtract> {
  const unpacked = Readable.from([bytes]).pipe(createGunzip());
  const lines = createInterface({ input: unpacked, crlfDelay: Number.POSITIVE_INFINITY });
  const parts: { [K in (typeof PARTS)[number]]: OsmExtract[K][number][] } = {
    nodes: [],
    ways: [],
    relations: [],
  };
  const head: unknown[] = [];
  for await (const line of lines) {
    if (head.length < 2) head.push(JSON.parse(line));
    else {
      const [part, elements] = JSON.parse(line) as [(typeof PARTS)[number], never[]];
      for (const element of elements) parts[part].push(element);
    }
  }
  const [source, bbox] = head as [OsmExtract['source'], OsmExtract['bbox'] | null];
  return { source, ...(bbox == null ? {} : { bbox }), ...parts };
}
