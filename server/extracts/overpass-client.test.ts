import { delay, HttpResponse, http } from 'msw';
import { setupServer } from 'msw/node';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { Result } from '../../shared/outcome/result.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import { readRecorded } from '../../tests/contracts/overpass/read-recorded.ts';
import {
  createOverpassClient,
  type OverpassAnswer,
  type OverpassOptions,
  type OverpassProgress,
  USER_AGENT,
} from './overpass-client.ts';

const FIRST = 'https://first.example/api/interpreter';
const SECOND = 'https://second.example/api/interpreter';
const QUERY = '[out:json];way["tunnel"](43.7,7.4,43.8,7.5);out body;';
const START_MS = Date.UTC(2026, 10, 25, 11, 0, 0);

const server = setupServer();
beforeAll(() => server.listen({ onUnhandledRequest: 'error' }));
afterEach(() => server.resetHandlers());
afterAll(() => server.close());

/** A client on a clock that only sleeping moves, and what it told while it worked. */
function setUp(changes: Partial<OverpassOptions> = {}) {
  const clock = { nowMs: START_MS };
  const sleptS: number[] = [];
  const notes: OverpassProgress[] = [];
  const client = createOverpassClient({
    urls: [FIRST, SECOND],
    userAgent: USER_AGENT,
    timeoutMs: 5_000,
    maxBytes: 1024 * 1024,
    retries: 2,
    now: () => clock.nowMs,
    sleep: async (durationMs) => {
      sleptS.push(durationMs / 1000);
      clock.nowMs += durationMs;
    },
    ...changes,
  });
  const ask = (query = QUERY, signal?: AbortSignal) =>
    client.ask(query, { ...(signal && { signal }), onProgress: (progress) => notes.push(progress) });
  const askNewer = () => client.ask(QUERY, { newer: true });
  return {
    ask,
    askNewer,
    clock,
    sleptS,
    notes,
    words: () => notes.map((progress) => progress.note ?? '').join('\n'),
  };
}

type Reply = (request: Request) => Response | Promise<Response>;

/** Answers at an address with the replies in turn, the last one for ever; counts the requests. */
function answerAt(url: string, ...replies: Reply[]) {
  const seen: Request[] = [];
  server.use(
    http.post(url, ({ request }) => {
      seen.push(request.clone());
      return (replies[seen.length - 1] ?? replies.at(-1))?.(request) ?? HttpResponse.error();
    }),
  );
  return seen;
}

const recorded = (name: string) => (): Response => {
  const { status, headers, body } = readRecorded(name);
  return new HttpResponse(body, { status, headers });
};
const good = recorded('tunnels-monaco-part');
const status = (code: number, headers: Record<string, string> = {}) => {
  return () => new HttpResponse('<html><title>Busy</title></html>', { status: code, headers });
};
const json = (body: string | ReadableStream, headers: Record<string, string> = {}) => {
  return () => new HttpResponse(body, { headers: { 'Content-Type': 'application/json', ...headers } });
};

function answerIn(result: Result<OverpassAnswer>): OverpassAnswer {
  if (!result.ok) throw new Error(describeRefusal(result.refusal));
  return result.value;
}
function refusalIn(result: Result<OverpassAnswer>) {
  if (result.ok) throw new Error('answered, but a refusal was expected');
  return result.refusal;
}

describe('a good answer', () => {
  it('is given byte for byte, with its server and times', async () => {
    const seen = answerAt(FIRST, good);
    const { ask, notes } = setUp();
    const answer = answerIn(await ask());
    const { body } = readRecorded('tunnels-monaco-part');
    expect(Buffer.from(answer.bytes).equals(body)).toBe(true);
    expect(answer).toMatchObject({
      server: FIRST,
      fetchedAt: '2026-11-25T11:00:00.000Z',
      dataTimestamp: '2026-11-25T10:37:00Z',
      fromCache: false,
    });
    expect(notes.at(-1)?.done).toBe(body.byteLength);
    expect(seen).toHaveLength(1);
  });

  it('is asked for with our name, as a form', async () => {
    const seen = answerAt(FIRST, good);
    await setUp().ask();
    const request = seen[0] as Request;
    expect(request.headers.get('user-agent')).toBe('Boremark/0.1 (+tunnel beacon planning)');
    expect(request.headers.get('content-type')).toMatch(/^application\/x-www-form-urlencoded/);
    expect(new URLSearchParams(await request.text()).get('data')).toBe(QUERY);
  });

  it('may have no elements: that is no failure of the server', async () => {
    answerAt(FIRST, recorded('empty'));
    expect(answerIn(await setUp().ask()).bytes.byteLength).toBe(284);
  });
});

describe('a remark is a refusal, never a success', () => {
  it.each([
    ['timeout-1s', 'Query timed out'],
    ['timeout-partial', 'Query timed out'],
    ['maxsize-small', 'Query ran out of memory'],
  ])('%s', async (name, words) => {
    answerAt(FIRST, recorded(name));
    const second = answerAt(SECOND, good);
    const refusal = refusalIn(await setUp().ask());
    expect(refusal.code).toBe('overpass-remark');
    expect(describeRefusal(refusal)).toContain(words);
    expect(second).toHaveLength(0);
  });
});

describe('a web page', () => {
  it('with status 200 carries the server’s own words, once the other server has failed too', async () => {
    answerAt(FIRST, recorded('timeout-huge'));
    answerAt(SECOND, recorded('timeout-huge'));
    expect(refusalIn(await setUp().ask())).toEqual({
      code: 'overpass-html',
      context: {
        reason:
          'runtime error: open64: 0 Success /osm3s_osm_base Dispatcher_Client::request_read_and_idx::protocol_error',
      },
    });
  });

  it('from one server leads to the next', async () => {
    answerAt(FIRST, recorded('timeout-huge'));
    answerAt(SECOND, good);
    expect(answerIn(await setUp().ask()).server).toBe(SECOND);
  });

  it.each([
    ['syntax-error', "line 1: parse error: '!', '~', '=', '!=', or ']' expected - '[' found."],
    ['emptybody', 'encoding error: Your input contains only whitespace.'],
  ])('with status 400 (%s) ends the matter: the question is wrong everywhere', async (name, reason) => {
    answerAt(FIRST, recorded(name));
    const second = answerAt(SECOND, good);
    expect(refusalIn(await setUp().ask())).toEqual({
      code: 'overpass-refused',
      context: { status: 400, reason },
    });
    expect(second).toHaveLength(0);
  });
});

describe('a busy server', () => {
  it.each([429, 503, 504])('(%i) is asked again after the time that it names', async (code) => {
    const first = answerAt(FIRST, status(code, { 'Retry-After': '30' }), good);
    const { ask, sleptS, words } = setUp();
    expect(answerIn(await ask()).server).toBe(FIRST);
    expect(first).toHaveLength(2);
    expect(sleptS).toEqual([30]);
    expect(words()).toContain('first.example asked to wait 30 s');
  });

  it('may name a date', async () => {
    answerAt(FIRST, status(429, { 'Retry-After': 'Wed, 25 Nov 2026 11:00:42 GMT' }), good);
    const { ask, sleptS } = setUp();
    answerIn(await ask());
    expect(sleptS).toEqual([42]);
  });

  it('that names no time is left alone longer each time, then the next server is asked', async () => {
    const first = answerAt(FIRST, status(429));
    answerAt(SECOND, good);
    const { ask, sleptS, words } = setUp({ retries: 3 });
    expect(answerIn(await ask()).server).toBe(SECOND);
    expect(first).toHaveLength(4);
    expect(sleptS).toEqual([5, 10, 20]);
    expect(words()).toContain('first.example is busy, asking again in 10 s');
  });

  it('that wants more time than a person waits is not pressed', async () => {
    const first = answerAt(FIRST, status(429, { 'Retry-After': '3600' }));
    const second = answerAt(SECOND, status(504, { 'Retry-After': '121' }));
    const { ask, sleptS } = setUp();
    expect(refusalIn(await ask()).code).toBe('overpass-busy');
    expect([first.length, second.length, sleptS.length]).toEqual([1, 1, 0]);
  });
});

describe('a server that fails', () => {
  it.each<[string, Reply]>([
    ['cannot be reached', () => HttpResponse.error()],
    ['answers 500', status(500)],
    ['answers 502', status(502)],
    ['shuts its door (403)', status(403)],
    ['answers nothing', json('')],
    ['answers half an answer', json('{"version": 0.6, "elements": [{"type": "node", "id": 1')],
    ['answers no JSON under that name', json('Connected as: 2130706433')],
    ['answers JSON of another kind', json('{"paths": []}')],
  ])('%s: the next one is asked', async (_, reply) => {
    const first = answerAt(FIRST, reply);
    answerAt(SECOND, good);
    expect(answerIn(await setUp().ask()).server).toBe(SECOND);
    expect(first).toHaveLength(1);
  });

  it.each<[string, Reply, string]>([
    ['nothing', json(''), 'it is empty'],
    ['half an answer', json('{"elements": ['), 'it ends early (after 0 elements)'],
    ['another kind of JSON', json('[]'), 'it is not Overpass JSON'],
    ['no elements', json('{"paths": []}'), 'it has no list of elements'],
    ['broken elements', json('{"elements": [{"id": }]}'), 'it is not whole JSON (element 1)'],
    ['null', json('null'), 'it is not Overpass JSON'],
  ])('and is the only one, with %s, is reported as damaged', async (_, reply, reason) => {
    answerAt(FIRST, reply);
    const refusal = refusalIn(await setUp({ urls: [FIRST] }).ask());
    expect(refusal).toEqual({ code: 'overpass-damaged', context: { reason } });
  });

  it('by cutting the connection half way is reported so', async () => {
    const cut = new ReadableStream({
      start(controller) {
        controller.enqueue(new TextEncoder().encode('{"elements": ['));
        setTimeout(() => controller.error(new Error('reset')), 20);
      },
    });
    answerAt(FIRST, json(cut));
    const refusal = refusalIn(await setUp({ urls: [FIRST] }).ask());
    expect(refusal).toEqual({
      code: 'overpass-damaged',
      context: { reason: 'the connection was cut after 14 bytes' },
    });
  });

  it('with all others failing is named with them', async () => {
    answerAt(FIRST, status(502));
    answerAt(SECOND, status(500));
    const refusal = refusalIn(await setUp({ urls: [FIRST, SECOND, 'ftp://third.example/'] }).ask());
    expect(refusal.code).toBe('overpass-unreachable');
    expect(refusal.context.reason).toBe(
      'first.example: status 502; second.example: status 500; ftp://third.example/ is not an http(s) address',
    );
  });

  it('by being out of reach counts for less than what another one said', async () => {
    answerAt(FIRST, status(502));
    answerAt(SECOND, status(429, { 'Retry-After': '999' }));
    expect(refusalIn(await setUp().ask()).code).toBe('overpass-busy');
  });

  it('is none at all', async () => {
    expect(refusalIn(await setUp({ urls: [] }).ask()).context.reason).toBe('no server is configured');
  });
});

describe('a slow server', () => {
  it('is left when it does not answer in time', async () => {
    answerAt(FIRST, () => delay('infinite').then(good));
    answerAt(SECOND, good);
    expect(answerIn(await setUp({ timeoutMs: 100 }).ask()).server).toBe(SECOND);
  });

  it('is left when it stops in the middle of its answer', async () => {
    const stuck = new ReadableStream({ start: (controller) => controller.enqueue(new Uint8Array([123])) });
    answerAt(FIRST, json(stuck));
    const refusal = refusalIn(await setUp({ timeoutMs: 100, urls: [FIRST] }).ask());
    expect(refusal.code).toBe('overpass-unreachable');
    expect(refusal.context.reason).toBe('first.example: no answer within 0.1 s');
  });
});

describe('the size limit', () => {
  /** Sends 1 KiB at a time without end, and tells how often it was asked for more. */
  function endless() {
    const sent = { chunks: 0 };
    const stream = new ReadableStream({
      pull(controller) {
        sent.chunks += 1;
        controller.enqueue(new Uint8Array(1024).fill(32));
      },
    });
    return { sent, stream };
  }

  it.each([
    ['says nothing of its length', {}],
    ['lies about its length', { 'Content-Length': '10' }],
  ])('stops an endless answer that %s', async (_, headers) => {
    const { sent, stream } = endless();
    answerAt(FIRST, json(stream, headers));
    const second = answerAt(SECOND, good);
    const refusal = refusalIn(await setUp({ maxBytes: 64 * 1024 }).ask());
    expect(refusal.code).toBe('overpass-too-large');
    expect(sent.chunks).toBeLessThan(80);
    expect(second).toHaveLength(0);
  });

  it('stops an answer that is announced as too large before it is read', async () => {
    const { sent, stream } = endless();
    answerAt(FIRST, json(stream, { 'Content-Length': String(2 ** 40) }));
    const refusal = refusalIn(await setUp({ maxBytes: 2 * 1024 * 1024 }).ask());
    expect(refusal).toEqual({ code: 'overpass-too-large', context: { limit: '2 MiB' } });
    expect(sent.chunks).toBeLessThan(4);
  });

  it('lets an answer of exactly that size pass', async () => {
    answerAt(FIRST, good);
    const { byteLength } = readRecorded('tunnels-monaco-part').body;
    expect(answerIn(await setUp({ maxBytes: byteLength }).ask()).bytes.byteLength).toBe(byteLength);
    expect(refusalIn(await setUp({ maxBytes: byteLength - 1 }).ask()).code).toBe('overpass-too-large');
  });
});

describe('a move', () => {
  const moved = (location: string, code = 307) => status(code, { Location: location });

  it('within the same host is followed with the same question', async () => {
    answerAt(FIRST, moved('/v2/interpreter', 301));
    const there = answerAt('https://first.example/v2/interpreter', good);
    answerIn(await setUp({ urls: [FIRST] }).ask());
    expect(new URLSearchParams(await there[0]?.text()).get('data')).toBe(QUERY);
  });

  it('from http to https of the same host is followed', async () => {
    answerAt('http://first.example/api', moved('https://first.example/api'));
    answerAt('https://first.example/api', good);
    answerIn(await setUp({ urls: ['http://first.example/api'] }).ask());
  });

  it.each([
    ['another host', 'https://other.example/api'],
    ['another port', 'https://first.example:8443/api'],
    ['http', 'http://first.example/api'],
    ['a file', 'file:///etc/hostname'],
    ['nowhere', 'https://'],
  ])('to %s is not followed', async (_, location) => {
    const elsewhere = answerAt('*', good);
    answerAt(FIRST, moved(location));
    const refusal = refusalIn(await setUp({ urls: [FIRST] }).ask());
    expect(refusal.code).toBe('overpass-unreachable');
    expect(refusal.context.reason).toMatch(/^first\.example: it sends the question on to /);
    expect(elsewhere).toHaveLength(0);
  });

  it('to another host is not followed on the way to https either', async () => {
    const elsewhere = answerAt('*', good);
    answerAt('http://first.example/api', moved('https://other.example/api'));
    expect((await setUp({ urls: ['http://first.example/api'] }).ask()).ok).toBe(false);
    expect(elsewhere).toHaveLength(0);
  });

  it('in circles ends', async () => {
    const seen = answerAt(FIRST, moved(FIRST));
    expect(refusalIn(await setUp({ urls: [FIRST] }).ask()).context.reason).toContain('circles');
    expect(seen.length).toBeLessThan(6);
  });
});

describe('giving up', () => {
  const cancelled = { code: 'job-cancelled', context: {} };

  it('before asking sends nothing', async () => {
    const seen = answerAt(FIRST, good);
    expect(refusalIn(await setUp().ask(QUERY, AbortSignal.abort()))).toEqual(cancelled);
    expect(seen).toHaveLength(0);
  });

  it('while the server thinks ends at once, and nobody else is asked', async () => {
    const control = new AbortController();
    answerAt(FIRST, () => {
      setTimeout(() => control.abort(), 20);
      return delay('infinite').then(good);
    });
    const second = answerAt(SECOND, good);
    const { ask, words } = setUp();
    expect(refusalIn(await ask(QUERY, control.signal))).toEqual(cancelled);
    expect(second).toHaveLength(0);
    expect(words()).toBe('asking first.example');
  });

  it('while the answer comes in ends at once', async () => {
    const control = new AbortController();
    const stuck = new ReadableStream({
      start(controller) {
        controller.enqueue(new Uint8Array([123]));
        setTimeout(() => control.abort(), 20);
      },
    });
    answerAt(FIRST, json(stuck));
    expect(refusalIn(await setUp().ask(QUERY, control.signal))).toEqual(cancelled);
  });

  it('while waiting for a busy server ends the wait', async () => {
    const control = new AbortController();
    const first = answerAt(FIRST, status(429, { 'Retry-After': '60' }));
    const { ask } = setUp({
      sleep: (_, signal) =>
        new Promise((_, reject) => {
          signal.addEventListener('abort', () => reject(signal.reason));
          control.abort();
        }),
    });
    expect(refusalIn(await ask(QUERY, control.signal))).toEqual(cancelled);
    expect(first).toHaveLength(1);
  });

  it('while another question is being answered leaves the queue and does not block it', async () => {
    const control = new AbortController();
    let open = 0;
    const seen = answerAt(FIRST, async () => {
      open += 1;
      expect(open).toBe(1);
      await delay(50);
      open -= 1;
      return good();
    });
    const { ask } = setUp();
    const before = ask('first');
    const leaving = ask('leaves', control.signal);
    const after = ask('last');
    control.abort();
    expect(refusalIn(await leaving)).toEqual(cancelled);
    expect(seen.length).toBeLessThan(2);
    answerIn(await before);
    answerIn(await after);
    expect(seen).toHaveLength(2);
  });
});

describe('several questions', () => {
  it('are sent one at a time, in the order of asking', async () => {
    const order: string[] = [];
    let open = 0;
    answerAt(FIRST, async (request) => {
      open += 1;
      expect(open).toBe(1);
      order.push(new URLSearchParams(await request.text()).get('data') ?? '');
      await delay(20);
      open -= 1;
      return good();
    });
    const { ask } = setUp();
    const answers = await Promise.all(['one', 'two', 'three'].map((query) => ask(query)));
    expect(answers.map((answer) => answer.ok)).toEqual([true, true, true]);
    expect(order).toEqual(['one', 'two', 'three']);
  });

  it('that are the same are sent once', async () => {
    const seen = answerAt(FIRST, () => delay(20).then(good));
    const { ask } = setUp();
    const [one, two] = await Promise.all([ask(), ask()]);
    expect([answerIn(one).fromCache, answerIn(two).fromCache]).toEqual([false, true]);
    expect(seen).toHaveLength(1);
  });

  it('go on after one that was refused', async () => {
    answerAt(FIRST, recorded('syntax-error'), good);
    const { ask } = setUp();
    expect(refusalIn(await ask('wrong')).code).toBe('overpass-refused');
    expect(answerIn(await ask('right')).fromCache).toBe(false);
  });
});

describe('a kept answer', () => {
  const HOUR_MS = 3_600_000;

  it('serves for a day, then is asked for again', async () => {
    const seen = answerAt(FIRST, good);
    const { ask, clock } = setUp();
    const first = answerIn(await ask());
    clock.nowMs += 24 * HOUR_MS - 1;
    const kept = answerIn(await ask());
    expect(kept).toEqual({ ...first, fromCache: true });
    clock.nowMs += 1;
    expect(answerIn(await ask()).fromCache).toBe(false);
    expect(seen).toHaveLength(2);
  });

  it('from a time still to come is not trusted', async () => {
    answerAt(FIRST, good);
    const { ask, clock } = setUp();
    await ask();
    clock.nowMs -= 1;
    expect(answerIn(await ask()).fromCache).toBe(false);
  });

  it('belongs to its own question', async () => {
    const seen = answerAt(FIRST, good);
    const { ask } = setUp();
    await ask('one');
    expect(answerIn(await ask('two')).fromCache).toBe(false);
    expect(seen).toHaveLength(2);
  });

  it('does not do where a newer one is asked for, not even when no server has one', async () => {
    const seen = answerAt(FIRST, good, good, status(502));
    answerAt(SECOND, status(502));
    const { ask, askNewer } = setUp();
    await ask();
    expect(answerIn(await askNewer()).fromCache).toBe(false);
    expect(seen).toHaveLength(2);
    expect(refusalIn(await askNewer()).code).toBe('overpass-unreachable');
  });

  it('that is old is better than none, and says how old and why', async () => {
    answerAt(FIRST, good, status(502));
    answerAt(SECOND, status(502));
    const { ask, clock, words } = setUp();
    await ask();
    clock.nowMs += 30 * HOUR_MS;
    const answer = answerIn(await ask());
    expect(answer).toMatchObject({ fromCache: true, fetchedAt: '2026-11-25T11:00:00.000Z' });
    expect(answer.staleBecause?.code).toBe('overpass-unreachable');
    expect(words()).toContain('using the one of 30 h ago');
  });

  it('does not stand in for one that was cancelled', async () => {
    const control = new AbortController();
    answerAt(FIRST, good, () => {
      control.abort();
      return good();
    });
    const { ask, clock, words } = setUp();
    await ask();
    clock.nowMs += 30 * HOUR_MS;
    expect(refusalIn(await ask(QUERY, control.signal)).code).toBe('job-cancelled');
    expect(words()).not.toContain('using the one');
  });

  it('is never a refusal', async () => {
    const seen = answerAt(FIRST, recorded('timeout-partial'), good);
    const { ask } = setUp();
    expect(refusalIn(await ask()).code).toBe('overpass-remark');
    expect(answerIn(await ask()).fromCache).toBe(false);
    expect(seen).toHaveLength(2);
  });
});
