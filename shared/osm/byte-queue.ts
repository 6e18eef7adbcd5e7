/** Bytes that arrive in pieces of any size and are taken in pieces of another. */
export type ByteQueue = {
  readonly byteLength: number;
  push(chunk: Uint8Array): void;
  /** Exactly so many bytes, or undefined while there are fewer. They may share memory with what was pushed. */
  take(count: number): Uint8Array | undefined;
};

/** Makes an empty queue. */
export function makeByteQueue(): ByteQueue {
  let chunks: Uint8Array[] = [];
  let length = 0;
  return {
    get byteLength() {
      return length;
    },
    push(chunk) {
      if (chunk.length === 0) return;
      chunks.push(chunk);
      length += chunk.length;
    },
    take(count) {
      if (count > length) return undefined;
      const all = chunks.length === 1 ? (chunks[0] as Uint8Array) : concat(chunks, length);
      chunks = count === length ? [] : [all.subarray(count)];
      length -= count;
      return all.subarray(0, count);
    },
  };
}

function concat(chunks: readonly Uint8Array[], length: number): Uint8Array {
  const all = new Uint8Array(length);
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}
