import { makeJsonSplitter } from '../../shared/osm/json-splitter.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';

/** How far a download has come, in bytes; `total` where the server told it. */
export type BytesSeen = (done: number, total: number | undefined) => void;

export type ReadOptions = {
  readonly maxBytes: number;
  readonly signal: AbortSignal;
  readonly onBytes: BytesSeen;
};

/**
 * Reads an answer's body and shows it to the check as it comes. Throws a RefusalError `overpass-too-large` as soon
 * as the server announces or sends more than `maxBytes` (after unpacking), `overpass-damaged` when the connection is
 * cut, and the signal's reason when that is aborted.
 */
export async function readBody(
  response: Response,
  check: BodyCheck,
  { maxBytes, signal, onBytes }: ReadOptions,
): Promise<Uint8Array> {
  const announced = readLength(response);
  if (announced !== undefined && announced > maxBytes) {
    discard(response);
    throw tooLarge(maxBytes);
  }
  const chunks: Uint8Array[] = [];
  let done = 0;
  try {
    for await (const chunk of readChunks(response, signal)) {
      done += chunk.byteLength;
      if (done > maxBytes) throw tooLarge(maxBytes);
      check.push(chunk);
      chunks.push(chunk);
      onBytes(done, announced !== undefined && announced >= done ? announced : undefined);
    }
  } catch (error) {
    if (error instanceof RefusalError || signal.aborted) throw error;
    throw damaged(`the connection was cut after ${done} bytes`);
  }
  return Buffer.concat(chunks);
}

/** Lets go of a body that nobody wants. Not waited for: a stream may take its time to close. */
export function discard(response: Response): void {
  void response.body?.cancel().catch(() => {});
}

/** The first `maxBytes` of a body as text, for error pages; the rest is not fetched. */
export async function readStart(response: Response, maxBytes: number, signal: AbortSignal): Promise<string> {
  const chunks: Uint8Array[] = [];
  let done = 0;
  for await (const chunk of readChunks(response, signal)) {
    chunks.push(chunk);
    done += chunk.byteLength;
    if (done >= maxBytes) break;
  }
  return new TextDecoder().decode(Buffer.concat(chunks).subarray(0, maxBytes));
}

/** The OSM data's own time in a good answer (`osm3s.timestamp_osm_base`), where it is told. */
export type CheckedBody = { readonly dataTimestamp?: string };

export type BodyCheck = { push(chunk: Uint8Array): void; end(): CheckedBody };

/**
 * Checks that a body is a whole Overpass answer while it comes in, in memory that does not grow with it. Throws a
 * RefusalError: `overpass-damaged` (empty, cut, not JSON, no list of elements) or `overpass-remark` (the server
 * stopped half way, whatever elements it sent).
 */
export function makeBodyCheck(): BodyCheck {
  const splitter = makeJsonSplitter(() => {});
  let isEmpty = true;
  return {
    push(chunk) {
      isEmpty &&= chunk.byteLength === 0;
      asDamaged(() => splitter.push(chunk));
    },
    end() {
      if (isEmpty) throw damaged('it is empty');
      return checkEnvelope(asDamaged(() => splitter.end()) as Record<string, unknown>);
    },
  };
}

function checkEnvelope({ remark, elements, osm3s }: Record<string, unknown>): CheckedBody {
  if (remark !== undefined && remark !== '') {
    throw new RefusalError('overpass-remark', { remark: String(remark).trim().slice(0, 200) });
  }
  if (!Array.isArray(elements)) throw damaged('it has no list of elements');
  const dataTimestamp = (osm3s as { timestamp_osm_base?: unknown } | undefined)?.timestamp_osm_base;
  return typeof dataTimestamp === 'string' && dataTimestamp !== '' ? { dataTimestamp } : {};
}

/** The splitter speaks of a file that a person chose; here it is the server that is at fault. */
function asDamaged<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof RefusalError)) throw error;
    const { code, context } = error.refusal;
    if (code === 'input-unknown-format') throw damaged('it is not Overpass JSON');
    throw damaged(`it ${code === 'input-truncated' ? 'ends early' : 'is not whole JSON'} (${context.where})`);
  }
}

function damaged(reason: string): RefusalError {
  return new RefusalError('overpass-damaged', { reason });
}

/** Cancelling the reader ends a read that would wait for ever; leaving the loop early closes the connection. */
async function* readChunks(response: Response, signal: AbortSignal): AsyncGenerator<Uint8Array> {
  const reader = response.body?.getReader();
  if (reader === undefined) return;
  const stop = () => void reader.cancel().catch(() => {});
  signal.addEventListener('abort', stop, { once: true });
  try {
    signal.throwIfAborted();
    for (let read = await reader.read(); !read.done; read = await reader.read()) yield read.value;
    signal.throwIfAborted();
  } finally {
    signal.removeEventListener('abort', stop);
    stop();
  }
}

/** The announced length of the body as it is read; with a content coding the header tells the packed one. */
function readLength(response: Response): number | undefined {
  const header = response.headers.get('content-length');
  if (header === null || response.headers.has('content-encoding')) return undefined;
  return /^\d+$/.test(header) ? Number(header) : undefined;
}

function tooLarge(maxBytes: number): RefusalError {
  return new RefusalError('overpass-too-large', { limit: `${Math.round(maxBytes / 2 ** 20)} MiB` });
}
