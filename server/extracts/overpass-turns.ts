/** Ends the turn that was given. */
export type EndTurn = () => void;

/**
 * Makes a queue in which one at a time has its turn, in the order of asking. A waiter whose signal aborts leaves
 * it at once (undefined) and does not hold up those behind it.
 */
export function createTurns(): (signal: AbortSignal) => Promise<EndTurn | undefined> {
  let last: Promise<void> = Promise.resolve();
  return async (signal) => {
    const before = last;
    let end: EndTurn = () => {};
    const own = new Promise<void>((resolve) => {
      end = resolve;
    });
    last = before.then(() => own);
    if (await endsFirst(before, signal)) return end;
    end();
    return undefined;
  };
}

/** Whether `turn` comes before the signal aborts. */
function endsFirst(turn: Promise<void>, signal: AbortSignal): Promise<boolean> {
  return new Promise((resolve) => {
    const leave = () => resolve(false);
    if (signal.aborted) return leave();
    signal.addEventListener('abort', leave, { once: true });
    void turn.then(() => {
      signal.removeEventListener('abort', leave);
      resolve(true);
    });
  });
}
