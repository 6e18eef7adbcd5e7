/** Writes bytes until it is through, or `signal` fires. */
export type Writer = (signal: AbortSignal) => AsyncGenerator<Uint8Array>;

/** The body of an answer: written as fast as it is taken, ended with all that it holds when nobody takes it any more. */
export function toStream(write: Writer): ReadableStream<Uint8Array> {
  const stop = new AbortController();
  const written = write(stop.signal);
  return new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        try {
          const next = await written.next();
          if (next.done === true) controller.close();
          else controller.enqueue(next.value);
        } catch (error) {
          // Whoever has gone needs no fault.
          if (!stop.signal.aborted) controller.error(error);
        }
      },
      async cancel() {
        stop.abort();
        await written.return(undefined).catch(() => undefined);
      },
    },
    { highWaterMark: 0 },
  );
}
