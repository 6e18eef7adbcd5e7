const FIRST_WAIT_S = 5;
const SHORTEST_WAIT_S = 1;

/** The longest that a busy server is waited for; one that asks for more is left alone. */
export const LONGEST_WAIT_S = 120;

/** Reads a `Retry-After` header (seconds or an HTTP date) as seconds from `nowMs`; undefined if it is neither. */
export function readRetryAfter(header: string | null, nowMs: number): number | undefined {
  const text = header?.trim() ?? '';
  if (/^\d+$/.test(text)) return Number(text);
  if (!/^[A-Z][a-z]{2,8}, /.test(text)) return undefined;
  const atMs = Date.parse(text);
  return Number.isNaN(atMs) ? undefined : Math.max(0, Math.ceil((atMs - nowMs) / 1000));
}

/**
 * Seconds to wait before try `attempt` (from 1) is repeated: what the server asked for, else 5 s doubled each
 * time; undefined when the server asked for more than is waited.
 */
export function findWaitS(attempt: number, retryAfterS: number | undefined): number | undefined {
  if (retryAfterS === undefined) return Math.min(FIRST_WAIT_S * 2 ** (attempt - 1), LONGEST_WAIT_S);
  return retryAfterS > LONGEST_WAIT_S ? undefined : Math.max(retryAfterS, SHORTEST_WAIT_S);
}
