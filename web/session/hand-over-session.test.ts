import { describe, expect, it } from 'vitest';
import { createApi } from './api.ts';
import type { Download } from './ask.ts';
import { createAsk } from './ask.ts';
import { createHandOverSession } from './hand-over-session.ts';

/** A session whose server answers with `respond`, and what was saved. */
function open(respond: (signal: AbortSignal) => Promise<Response> | Response) {
  const saved: Download[] = [];
  const fetcher = (async (_: string, init: RequestInit) =>
    respond(init.signal as AbortSignal)) as typeof fetch;
  const session = createHandOverSession(createApi(createAsk(fetcher)), (file) => saved.push(file));
  return { session, saved };
}

const headers = {
  'content-type': 'application/gpx+xml',
  'content-disposition': 'attachment; filename="city.gpx"',
};

describe('a hand-over', () => {
  it('saves the file under its name and tells its size', async () => {
    const { session, saved } = open(() => new Response('<gpx/>', { headers }));
    await session.start('s', {});
    expect(session.get()).toMatchObject({ phase: 'done', fileName: 'city.gpx', bytes: 6 });
    expect(await saved[0]?.blob.text()).toBe('<gpx/>');
  });

  it('keeps a refusal’s sentence and saves nothing', async () => {
    const problem = { code: 'hand-over-empty', status: 400, detail: 'There is nothing.', context: {} };
    const { session, saved } = open(() =>
      Response.json(problem, { status: 400, headers: { 'content-type': 'application/problem+json' } }),
    );
    await session.start('s', {});
    expect(session.get()).toMatchObject({ phase: 'failed', problem });
    expect(saved).toEqual([]);
  });

  it('does not save half a file', async () => {
    const body = new ReadableStream({
      start(controller) {
        controller.enqueue(new Uint8Array(10));
      },
      pull(controller) {
        controller.error(new Error('gone'));
      },
    });
    const { session, saved } = open(() => new Response(body, { headers }));
    await session.start('s', {});
    expect(session.get()).toMatchObject({ phase: 'failed', problem: { code: 'cut-short' } });
    expect(saved).toEqual([]);
  });

  it('is given up, and what comes late is dropped', async () => {
    let told: AbortSignal | undefined;
    let come = (_: Response) => {};
    const { session, saved } = open((signal) => {
      told = signal;
      return new Promise((resolve) => {
        come = resolve;
      });
    });
    const started = session.start('s', {});
    session.cancel();
    come(new Response('late', { headers }));
    await started;
    expect(told?.aborted).toBe(true);
    expect(session.get().phase).toBe('cancelled');
    expect(saved).toEqual([]);
  });
});
