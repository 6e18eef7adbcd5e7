import { createReadStream } from 'node:fs';
import { basename } from 'node:path';
import type { Readable } from 'node:stream';
import type { Decoder } from '../../shared/osm/decoder.ts';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import { FORMAT_BYTES, findFormat } from '../../shared/osm/find-format.ts';
import { fromOsmPbf } from '../../shared/osm/from-osm-pbf.ts';
import { fromOverpassJson } from '../../shared/osm/from-overpass-json.ts';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { RefusalError, refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { inflate } from './inflate.ts';
import { openLargePbf } from './open-large-pbf.ts';
import { type LargePbfOptions, readLargePbf } from './read-large-pbf.ts';
import { peek } from './read-peek.ts';
import { readSource } from './read-source.ts';
import { readUnpacked } from './read-unpacked.ts';

const MAX_BYTES = 2 * 2 ** 30;
const MAX_UNPACKED_BYTES = 8 * 2 ** 30;
const LARGE_BYTES = 20e6;

export type ReadExtractOptions = {
  /** The file's name, for the words of a refusal. */
  readonly name: string;
  /** Bytes that may be read, packed or not (default 2 GiB). */
  readonly maxBytes?: number;
  readonly signal?: AbortSignal;
  /** Called after each piece with the bytes read so far, packed or not. */
  onProgress?(bytesRead: number): void;
};

export type ReadFileOptions = Partial<ReadExtractOptions> &
  LargePbfOptions & {
    /** PBF files above so many bytes are reduced to what is near tunnels (default 20 MB). */
    readonly largeBytes?: number;
  };

/**
 * Reads an extract of OpenStreetMap from a stream: Overpass JSON, OSM XML or OSM PBF, each also packed with gzip or
 * bzip2, decided by content. Every reason not to read it is a Refusal ('input-…', 'overpass-remark',
 * 'job-cancelled'). The source is closed when done, refused or cancelled.
 */
export async function readExtract(
  source: Readable | AsyncIterable<Uint8Array>,
  { name, maxBytes = MAX_BYTES, signal, onProgress }: ReadExtractOptions,
): Promise<Result<OsmExtract>> {
  const ending = new AbortController();
  const signals = signal === undefined ? [ending.signal] : [signal, ending.signal];
  const progress = onProgress === undefined ? {} : { onProgress };
  const bytes = readSource(source, { maxBytes, signal: AbortSignal.any(signals), ...progress });
  try {
    return await settle(name, () => decode(readUnpacked(bytes, MAX_UNPACKED_BYTES)));
  } finally {
    // Wakes a source that is silent, so that it is closed whatever the answer was.
    ending.abort();
  }
}

/**
 * Reads an extract from a file, as `readExtract` does; the name defaults to the file's own. Of a PBF file above
 * 20 MB only what lies near road tunnels is kept (tunnel-cells.ts), if the file is sorted as nearly all are. Refuses
 * 'input-not-readable' for a missing file, a folder, or one that may not be read.
 */
export async function readExtractFile(
  path: string,
  { largeBytes = LARGE_BYTES, ...given }: ReadFileOptions = {},
): Promise<Result<OsmExtract>> {
  const options = { name: basename(path), maxBytes: MAX_BYTES, ...given, ...makeForward(given) };
  const large = openLargePbf(path, largeBytes, options.maxBytes);
  if (large !== undefined) {
    try {
      return await settle(options.name, () => readLargePbf(large.file, large.size, options));
    } catch (error) {
      if (!(error instanceof UnusualPbf)) throw error;
    }
  }
  return readExtract(createReadStream(path), options);
}

/** Progress that never goes back, also where a file has to be read a second time. */
function makeForward({ onProgress }: ReadFileOptions): Pick<ReadExtractOptions, 'onProgress'> {
  if (onProgress === undefined) return {};
  let most = -1;
  return {
    onProgress(bytesRead) {
      if (bytesRead <= most) return;
      most = bytesRead;
      onProgress(bytesRead);
    },
  };
}

/** The answer of a piece of work, or the refusal that it threw, with the file's name. */
async function settle(name: string, work: () => Promise<OsmExtract>): Promise<Result<OsmExtract>> {
  try {
    return done(await work());
  } catch (error) {
    if (error instanceof RefusalError) {
      return refused(refusal(error.refusal.code, { name, ...error.refusal.context }));
    }
    if (isMemoryError(error)) return refused(refusal('out-of-memory', { name }));
    throw error;
  }
}

async function decode(bytes: AsyncIterable<Uint8Array>): Promise<OsmExtract> {
  const { head, all, close } = await peek(bytes, FORMAT_BYTES);
  try {
    if (head.length === 0) throw new RefusalError('input-empty');
    const decoder = await makeDecoder(head);
    for await (const chunk of all) decoder.push(chunk);
    return decoder.end();
  } finally {
    await close();
  }
}

async function makeDecoder(head: Uint8Array): Promise<Decoder> {
  const format = findFormat(head);
  if (format === 'pbf') return fromOsmPbf(inflate);
  // Loaded when it is needed: loading its parser takes twice as long as starting this program.
  if (format === 'xml') return (await import('../../shared/osm/from-osm-xml.ts')).fromOsmXml();
  if (format === 'json') return fromOverpassJson();
  throw new RefusalError(format === 'html' ? 'input-html' : 'input-unknown-format');
}

function isMemoryError(error: unknown): boolean {
  return (
    error instanceof RangeError &&
    /allocation failed|invalid (?:array|string|typed array) length/i.test(error.message)
  );
}
