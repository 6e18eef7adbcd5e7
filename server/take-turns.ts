import { setImmediate as nextTurn } from 'node:timers/promises';

const TURN_MS = 15;

/** For long work on the server's own thread: to be awaited between its parts, so that others are answered meanwhile. */
export function takeTurns(): () => Promise<void> {
  let since = performance.now();
  return async () => {
    if (performance.now() - since < TURN_MS) return;
    await nextTurn();
    since = performance.now();
  };
}
