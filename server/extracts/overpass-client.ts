import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { askServer } from './overpass-attempt.ts';
import { type AnswerCache, createFolderCache, createMemoryCache, type KeptAnswer } from './overpass-cache.ts';
import { findWaitS } from './overpass-retry.ts';
import { createTurns } from './overpass-turns.ts';

/** What we are called wherever we ask; servers want to know their callers. */
export const USER_AGENT = 'Boremark/0.1 (+tunnel beacon planning)';

const CACHE_LIFE_MS = 24 * 3600 * 1000;

export type OverpassOptions = {
  /** Addresses of interpreters (http or https), the preferred one first. */
  readonly urls: readonly string[];
  readonly userAgent: string;
  /** For one request, from sending the question to the last byte of the answer. */
  readonly timeoutMs: number;
  readonly maxBytes: number;
  /** How often a busy server is asked again before the next one is. */
  readonly retries: number;
  /** Where answers are kept; in memory without it. */
  readonly cacheFolder?: string;
  readonly cacheLifeMs?: number;
  readonly now: () => number;
  readonly sleep: (durationMs: number, signal: AbortSignal) => Promise<unknown>;
  readonly fetch?: typeof fetch;
};

/** Bytes of the answer so far, of how many where that is known; `note` says in words what is being waited for. */
export type OverpassProgress = { readonly done: number; readonly total?: number; readonly note?: string };

export type Asking = {
  readonly signal?: AbortSignal;
  /** A kept answer does not do, however young: what was asked for is to be compared with it. */
  readonly newer?: boolean;
  readonly onProgress?: (progress: OverpassProgress) => void;
};

export type OverpassAnswer = {
  /** Overpass JSON as the server sent it. */
  readonly bytes: Uint8Array;
  readonly server: string;
  readonly fetchedAt: string;
  /** When the map data were current, if the server says so. */
  readonly dataTimestamp?: string;
  readonly fromCache: boolean;
  /** Why an answer older than the cache's life is given: no server had a new one. */
  readonly staleBecause?: Refusal;
};

export type OverpassClient = {
  ask(query: string, asking?: Asking): Promise<Result<OverpassAnswer>>;
};

type Run = {
  readonly query: string;
  readonly signal: AbortSignal;
  readonly newer: boolean;
  readonly report: (progress: OverpassProgress) => void;
  readonly options: OverpassOptions;
};

/**
 * Makes a client for Overpass servers that asks one question at a time, waits when told to, takes the servers in
 * turn and keeps answers for a day. `ask` refuses with the `overpass-…` codes or `job-cancelled`; when no server
 * answers, an older kept answer is given with its age.
 */
export function createOverpassClient(options: OverpassOptions): OverpassClient {
  const cache =
    options.cacheFolder === undefined ? createMemoryCache() : createFolderCache(options.cacheFolder);
  const takeTurn = createTurns();
  const never = new AbortController().signal;
  return {
    ask: async (query, { signal = never, newer = false, onProgress: report = () => {} } = {}) => {
      const run: Run = { query, signal, newer, report, options };
      if (signal.aborted) return refused(refusal('job-cancelled'));
      const fresh = await findFresh(cache, run);
      if (fresh !== undefined) return done(fresh);
      const endTurn = await takeTurn(signal);
      if (endTurn === undefined) return refused(refusal('job-cancelled'));
      try {
        // The question may have been answered for somebody else meanwhile.
        const answered = await findFresh(cache, run);
        const result = answered === undefined ? await askAndKeep(cache, run) : done(answered);
        return signal.aborted ? refused(refusal('job-cancelled')) : result;
      } finally {
        endTurn();
      }
    },
  };
}

async function findFresh(
  cache: AnswerCache,
  { query, newer, options }: Run,
): Promise<OverpassAnswer | undefined> {
  if (newer) return undefined;
  const kept = await cache.find(query);
  if (kept === undefined) return undefined;
  const ageMs = options.now() - kept.fetchedAtMs;
  return ageMs >= 0 && ageMs < (options.cacheLifeMs ?? CACHE_LIFE_MS) ? toAnswer(kept, true) : undefined;
}

async function askAndKeep(cache: AnswerCache, run: Run): Promise<Result<OverpassAnswer>> {
  const asked = await askInTurn(run);
  if (asked.ok) {
    await cache.keep(run.query, asked.value).catch((error: Error) => {
      const { byteLength } = asked.value.bytes;
      run.report({ done: byteLength, note: `the answer could not be kept for later: ${error.message}` });
    });
    return done(toAnswer(asked.value, false));
  }
  const kept = run.signal.aborted || run.newer ? undefined : await cache.find(run.query);
  if (kept === undefined) return asked;
  const ageH = Math.round((run.options.now() - kept.fetchedAtMs) / 3_600_000);
  run.report({ done: 0, note: `no server gave a new answer; using the one of ${ageH} h ago` });
  return done({ ...toAnswer(kept, true), staleBecause: asked.refusal });
}

/** Takes the servers in turn until one answers or the question itself is refused. */
async function askInTurn(run: Run): Promise<Result<KeptAnswer>> {
  const failures: Refusal[] = [];
  for (const address of run.options.urls) {
    const url = URL.canParse(address) ? new URL(address) : undefined;
    if (url === undefined || !/^https?:$/.test(url.protocol)) {
      failures.push(refusal('overpass-unreachable', { reason: `${address} is not an http(s) address` }));
      continue;
    }
    const asked = await askPatiently(url, run);
    if (asked.ok || asked.final) return asked;
    failures.push(asked.refusal);
  }
  return refused(chooseFailure(failures));
}

type Asked = Result<KeptAnswer> & { readonly final?: boolean };

/** Asks one server, and again while it is busy and the tries last. */
async function askPatiently(url: URL, run: Run): Promise<Asked> {
  const { options, signal, report } = run;
  const onBytes = (bytes: number, total?: number) =>
    report({ done: bytes, ...(total === undefined ? {} : { total }) });
  const attemptOptions = { fetch, ...options, signal, onBytes };
  for (let attempt = 1; ; attempt++) {
    report({ done: 0, note: `asking ${url.host}` });
    const ended = await askServer(url, run.query, attemptOptions);
    if (ended.kind === 'answer') {
      const { bytes, dataTimestamp } = ended;
      const server = `${url.origin}${url.pathname}`;
      return done({ bytes, server, fetchedAtMs: options.now(), dataTimestamp });
    }
    if (ended.kind !== 'busy') return { ...refused(ended.refusal), final: ended.kind === 'final' };
    const waitS = attempt > options.retries ? undefined : findWaitS(attempt, ended.retryAfterS);
    if (waitS === undefined) return refused(ended.refusal);
    const asksToWait = ended.retryAfterS === undefined ? 'is busy, asking again in' : 'asked to wait';
    report({ done: 0, note: `${url.host} ${asksToWait} ${waitS} s` });
    if (!(await waitFor(waitS, run))) return { ...refused(refusal('job-cancelled')), final: true };
  }
}

/** Waits, and tells whether the wait was not broken off. */
async function waitFor(waitS: number, { options, signal }: Run): Promise<boolean> {
  await options.sleep(waitS * 1000, signal).catch((error: unknown) => {
    if (!signal.aborted) throw error;
  });
  return !signal.aborted;
}

/** Of several failures the most telling one: what a server said, before those that could not be reached. */
function chooseFailure(failures: readonly Refusal[]): Refusal {
  const said = failures.find((failure) => failure.code !== 'overpass-unreachable');
  if (said !== undefined) return said;
  const reasons = failures.map((failure) => String(failure.context.reason));
  return refusal('overpass-unreachable', { reason: reasons.join('; ') || 'no server is configured' });
}

function toAnswer(kept: KeptAnswer, fromCache: boolean): OverpassAnswer {
  const { bytes, server, fetchedAtMs, dataTimestamp } = kept;
  const fetchedAt = new Date(fetchedAtMs).toISOString();
  return { bytes, server, fetchedAt, fromCache, ...(dataTimestamp === undefined ? {} : { dataTimestamp }) };
}
