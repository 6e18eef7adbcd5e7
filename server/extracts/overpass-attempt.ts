import { type Refusal, RefusalError, refusal } from '../../shared/outcome/refusal.ts';
import { type BytesSeen, discard, makeBodyCheck, readBody, readStart } from './overpass-body.ts';
import { findErrorLine } from './overpass-error-line.ts';
import { readRetryAfter } from './overpass-retry.ts';

export type AttemptOptions = {
  readonly userAgent: string;
  readonly timeoutMs: number;
  readonly maxBytes: number;
  readonly signal: AbortSignal;
  readonly onBytes: BytesSeen;
  readonly now: () => number;
  readonly fetch: typeof fetch;
};

/** How one request to one server ended. */
export type Attempt =
  | { readonly kind: 'answer'; readonly bytes: Uint8Array; readonly dataTimestamp?: string }
  /** The same server may be asked again. */
  | { readonly kind: 'busy'; readonly refusal: Refusal; readonly retryAfterS: number | undefined }
  /** Another server may do better. */
  | { readonly kind: 'failed'; readonly refusal: Refusal }
  /** No server would do better: the question itself is at fault, or the person gave up. */
  | { readonly kind: 'final'; readonly refusal: Refusal };

const BUSY_STATUS: ReadonlySet<number> = new Set([429, 503, 504]);
const MOVED_STATUS: ReadonlySet<number> = new Set([301, 302, 307, 308]);
const MAX_MOVES = 3;
/** A page says early what it has to say; searching a longer one would let a hostile page cost seconds. */
const ERROR_PAGE_BYTES = 16 * 1024;
const FINAL_CODES: ReadonlySet<string> = new Set(['overpass-remark', 'overpass-too-large']);

/** Sends one question to one server and judges the answer: status, then content type, then the body. Never throws. */
export async function askServer(url: URL, query: string, options: AttemptOptions): Promise<Attempt> {
  const timeout = AbortSignal.timeout(options.timeoutMs);
  const signal = AbortSignal.any([options.signal, timeout]);
  try {
    const response = await post(url, query, signal, options);
    return await judge(response, url, signal, options);
  } catch (error) {
    if (options.signal.aborted) return { kind: 'final', refusal: refusal('job-cancelled') };
    if (error instanceof RefusalError) {
      return { kind: FINAL_CODES.has(error.refusal.code) ? 'final' : 'failed', refusal: error.refusal };
    }
    const reason = timeout.aborted ? `no answer within ${options.timeoutMs / 1000} s` : findReason(error);
    return unreachable(url, reason);
  }
}

/** Follows a move only within the same host and never from https down: a question goes to nobody else. */
async function post(
  url: URL,
  query: string,
  signal: AbortSignal,
  options: AttemptOptions,
): Promise<Response> {
  let target = url;
  for (let moves = 0; moves <= MAX_MOVES; moves++) {
    const response = await options.fetch(target, {
      method: 'POST',
      headers: { 'User-Agent': options.userAgent, Accept: 'application/json' },
      body: new URLSearchParams({ data: query }),
      redirect: 'manual',
      signal,
    });
    if (!MOVED_STATUS.has(response.status)) return response;
    discard(response);
    const location = response.headers.get('location') ?? '';
    const next = URL.canParse(location, target) ? new URL(location, target) : undefined;
    if (next === undefined || !mayFollow(target, next)) {
      throw new Error(`it sends the question on to ${next?.href.slice(0, 100) ?? 'no address'}`);
    }
    target = next;
  }
  throw new Error('it sends the question round in circles');
}

function mayFollow(from: URL, to: URL): boolean {
  if (to.hostname !== from.hostname) return false;
  const upgraded = from.protocol === 'http:' && to.protocol === 'https:' && to.port === '';
  return upgraded || to.origin === from.origin;
}

async function judge(
  response: Response,
  url: URL,
  signal: AbortSignal,
  options: AttemptOptions,
): Promise<Attempt> {
  const { status } = response;
  if (BUSY_STATUS.has(status)) {
    discard(response);
    const retryAfterS = readRetryAfter(response.headers.get('retry-after'), options.now());
    return { kind: 'busy', refusal: refusal('overpass-busy', { server: url.host, status }), retryAfterS };
  }
  if (status >= 500) {
    discard(response);
    return unreachable(url, `status ${status}`);
  }
  if (status !== 200) {
    const reason = findErrorLine(await readStart(response, ERROR_PAGE_BYTES, signal)) || 'no reason given';
    // A server that calls the question itself bad (400) speaks for all; one that shuts its door, for itself.
    return {
      kind: status === 400 ? 'final' : 'failed',
      refusal: refusal('overpass-refused', { status, reason }),
    };
  }
  if (!/\bjson\b/i.test(response.headers.get('content-type') ?? '')) {
    const reason = findErrorLine(await readStart(response, ERROR_PAGE_BYTES, signal)) || 'an empty page';
    return { kind: 'failed', refusal: refusal('overpass-html', { reason }) };
  }
  const check = makeBodyCheck();
  const bytes = await readBody(response, check, { ...options, signal });
  return { kind: 'answer', bytes, ...check.end() };
}

function unreachable(url: URL, reason: string): Attempt {
  return { kind: 'failed', refusal: refusal('overpass-unreachable', { reason: `${url.host}: ${reason}` }) };
}

/** fetch() says only "fetch failed"; the cause has the words (connection refused, certificate, no such host). */
function findReason(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const cause = error.cause as { code?: string; message?: string } | undefined;
  return (cause?.message || cause?.code || error.message || error.name).slice(0, 200);
}
