/** Bytes of which the start was looked at: everything, from the start on. To be consumed once, or closed. */
export type Peeked = {
  /** The first bytes: as many as were asked for, or all. */
  readonly head: Uint8Array;
  readonly all: AsyncIterable<Uint8Array>;
  /** Closes the source without reading on. */
  close(): Promise<void>;
};

/** Looks at the first `bytes` bytes of a source. */
export async function peek(source: AsyncIterable<Uint8Array>, bytes: number): Promise<Peeked> {
  const iterator = source[Symbol.asyncIterator]();
  const chunks: Uint8Array[] = [];
  let length = 0;
  let ended = false;
  while (length < bytes && !ended) {
    const step = await iterator.next();
    if (step.done) ended = true;
    else {
      chunks.push(step.value);
      length += step.value.length;
    }
  }
  const head = Buffer.concat(chunks).subarray(0, bytes);
  const close = async () => {
    await iterator.return?.();
  };
  const next = async (): Promise<IteratorResult<Uint8Array>> => {
    const value = chunks.shift();
    return value === undefined ? iterator.next() : { done: false, value };
  };
  // By hand, because a generator that was never started closes nothing when it is closed.
  const rest: AsyncIterator<Uint8Array> = {
    next,
    return: async () => {
      await close();
      return { done: true, value: undefined };
    },
  };
  return { head, all: { [Symbol.asyncIterator]: () => rest }, close };
}
