import { setImmediate } from 'node:timers/promises';
import Bunzip from 'seek-bzip';
import { RefusalError } from '../../shared/outcome/refusal.ts';

/** More than one compressed block can take (900,000 symbols of at most 20 bits, and its tables). */
const BLOCK_BYTES = 3 * 2 ** 20;
const PIECE_BYTES = 1 << 16;

/**
 * Unpacks bzip2 data, also several streams one after the other (as parallel packers write them), block by block:
 * memory holds one block and what it unpacks to (at most 46 MB). Refuses 'input-truncated' and 'input-damaged'.
 */
export async function* readBzip2(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const input = makeInput(source);
  const output = makeOutput();
  try {
    await input.fill(BLOCK_BYTES);
    const bunzip = new Bunzip(input, output);
    for (;;) {
      await input.fill(BLOCK_BYTES);
      if (bunzip._init_block()) {
        bunzip._read_bunzip();
        yield* output.take();
        await setImmediate();
        continue;
      }
      const checksum = bunzip.reader.read(32) >>> 0;
      if (checksum !== bunzip.streamCRC) throw new RefusalError('input-damaged', { where: 'bzip2 checksum' });
      await input.fill(1);
      if (input.isEmpty()) return;
      await input.fill(BLOCK_BYTES);
      bunzip._start_bunzip(input, output);
    }
  } catch (error) {
    throw isLibraryError(error) ? new RefusalError('input-damaged', { where: 'bzip2 compression' }) : error;
  } finally {
    await input.close();
  }
}

/** The library throws TypeErrors with a code of its own. */
function isLibraryError(error: unknown): boolean {
  return error instanceof TypeError && 'errorCode' in error;
}

/** Bytes that the library can read without waiting, filled up between blocks. */
function makeInput(source: AsyncIterable<Uint8Array>) {
  const iterator = source[Symbol.asyncIterator]();
  let chunks: Uint8Array[] = [];
  let chunk: Uint8Array = new Uint8Array(0);
  let at = 0;
  let waiting = 0;
  let ended = false;
  const next = (): boolean => {
    const following = chunks.shift();
    if (following === undefined) return false;
    waiting -= following.length;
    chunk = following;
    at = 0;
    return true;
  };
  const readByte = (): number => {
    while (at === chunk.length) {
      if (!next()) throw new RefusalError('input-truncated', { where: 'in bzip2 data' });
    }
    return chunk[at++] as number;
  };
  return {
    readByte,
    read(buffer: Uint8Array, offset: number, length: number): number {
      for (let index = 0; index < length; index += 1) buffer[offset + index] = readByte();
      return length;
    },
    /** Waits until so many bytes are there, or the source has ended. */
    async fill(bytes: number): Promise<void> {
      while (!ended && chunk.length - at + waiting < bytes) {
        const step = await iterator.next();
        if (step.done) ended = true;
        else if (step.value.length > 0) {
          chunks.push(step.value);
          waiting += step.value.length;
        }
      }
    },
    isEmpty: () => ended && at === chunk.length && waiting === 0,
    async close(): Promise<void> {
      chunks = [];
      await iterator.return?.();
    },
  };
}

function makeOutput() {
  let pieces: Uint8Array[] = [];
  let piece = new Uint8Array(PIECE_BYTES);
  let at = 0;
  return {
    writeByte(byte: number): void {
      if (at === PIECE_BYTES) {
        pieces.push(piece);
        piece = new Uint8Array(PIECE_BYTES);
        at = 0;
      }
      piece[at++] = byte;
    },
    /** What has been written since the last time. */
    take(): Uint8Array[] {
      const taken = [...pieces, piece.subarray(0, at)];
      pieces = [];
      piece = new Uint8Array(PIECE_BYTES);
      at = 0;
      return taken;
    },
  };
}
