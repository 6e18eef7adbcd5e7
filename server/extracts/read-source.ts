import { Readable } from 'node:stream';
import { RefusalError } from '../../shared/outcome/refusal.ts';

/** Streams that were given an encoding yield texts. */
type Chunks = AsyncIterator<Uint8Array | string>;
type Step = IteratorResult<Uint8Array | string>;

export type SourceOptions = {
  /** Bytes that may be read, packed or not. */
  readonly maxBytes: number;
  readonly signal: AbortSignal;
  onProgress?(bytesRead: number): void;
};

/**
 * The bytes of a source with a limit, a way out and progress. Refuses 'job-cancelled' as soon as the signal says
 * so, also while the source is silent; 'input-too-large'; and 'input-not-readable' when the source fails.
 * The source is closed at the end, whatever the end is.
 */
export async function* readSource(
  source: Readable | AsyncIterable<Uint8Array>,
  { maxBytes, signal, onProgress }: SourceOptions,
): AsyncGenerator<Uint8Array> {
  // A stream may fail once more after it was closed; nobody is left to hear of it.
  if (source instanceof Readable) source.on('error', () => {});
  const iterator = source[Symbol.asyncIterator]() as Chunks;
  const stop = () => close(source, iterator);
  signal.addEventListener('abort', stop, { once: true });
  let bytes = 0;
  try {
    for (;;) {
      const step = await nextUnlessAborted(iterator, signal);
      if (step.done) return;
      const chunk = typeof step.value === 'string' ? Buffer.from(step.value) : step.value;
      bytes += chunk.length;
      if (bytes > maxBytes) throw new RefusalError('input-too-large', { limit: `${maxBytes / 2 ** 20} MB` });
      onProgress?.(bytes);
      yield chunk;
    }
  } finally {
    signal.removeEventListener('abort', stop);
    stop();
  }
}

/** One listener for each piece: a lasting promise to race against would hold on to every piece ever read. */
function nextUnlessAborted(iterator: Chunks, signal: AbortSignal): Promise<Step> {
  return new Promise((resolve, reject) => {
    const cancel = () => reject(new RefusalError('job-cancelled'));
    if (signal.aborted) {
      cancel();
      return;
    }
    signal.addEventListener('abort', cancel, { once: true });
    readNext(iterator)
      .then(resolve, reject)
      .finally(() => signal.removeEventListener('abort', cancel));
  });
}

async function readNext(iterator: Chunks): Promise<Step> {
  try {
    return await iterator.next();
  } catch (error) {
    if (error instanceof RefusalError) throw error;
    throw new RefusalError('input-not-readable', { reason: toReason(error) });
  }
}

const REASONS: ReadonlyMap<string, string> = new Map([
  ['ENOENT', 'there is no such file'],
  ['EISDIR', 'it is a folder'],
  ['EACCES', 'reading it is not permitted'],
  ['EPERM', 'reading it is not permitted'],
  ['ENOTDIR', 'part of its path is not a folder'],
]);

function toReason(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return REASONS.get(code) ?? (error instanceof Error ? error.message : String(error));
}

/** Does not wait: a silent source would never answer. */
function close(source: Readable | AsyncIterable<Uint8Array>, iterator: Chunks): void {
  if (source instanceof Readable) source.destroy();
  else Promise.resolve(iterator.return?.()).catch(() => {});
}
