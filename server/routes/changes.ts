import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { streamSSE } from 'hono/streaming';
import type { Logger } from 'pino';
import type { SurveyChange } from '../../shared/wire/changes.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { idParam, problems } from './route-parts.ts';

export type ChangesDeps = {
  readonly log: Logger;
  /** Fires when the server is told to stop: streams would keep it from ending. */
  readonly stopping?: AbortSignal;
};

/** Proxies close a connection on which nothing is said for a minute or so. */
const HEARTBEAT_MS = 15_000;

/** The route that tells an open page of what others change. */
export function addChangeRoutes(app: OpenAPIHono, surveys: Surveys, deps: ChangesDeps): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/changes',
      summary:
        'Server-sent events of a survey: `changed` with its revision, at once and after every change by anybody; `gone` ends it',
      request: { params: idParam },
      responses: { 200: { description: 'text/event-stream' }, ...problems },
    }),
    async (c) => {
      const { id } = c.req.valid('param');
      const revision = await surveys.revision(id);
      return (revision.ok ? streamChanges(c, surveys, id, deps) : toProblem(c, revision.refusal)) as never;
    },
  );
}

function streamChanges(c: Context, surveys: Surveys, id: string, { log, stopping }: ChangesDeps): Response {
  return streamSSE(c, async (stream) => {
    let end = () => {};
    const beat = setInterval(async () => {
      // A session or a link that has ended shows nothing more.
      if (
        await c
          .get('stillMay')()
          .catch(() => false)
      )
        void stream.write(': still here\n\n');
      else end();
    }, HEARTBEAT_MS);
    let stop = () => {};
    try {
      await new Promise<void>((resolve, reject) => {
        end = resolve;
        stopping?.addEventListener('abort', end);
        stream.onAbort(resolve);
        const tell = async (change?: SurveyChange) => {
          const known = change === undefined ? await surveys.revision(id) : undefined;
          if (known?.ok === false) {
            await stream.writeSSE({ event: 'gone', data: '{}' });
            return resolve();
          }
          const data = JSON.stringify(change ?? { revision: known?.value });
          await stream.writeSSE({ event: 'changed', data });
        };
        // Listening before the first word: nothing falls between the two.
        let queue: Promise<void> = Promise.resolve();
        const add = (change?: SurveyChange) => {
          queue = queue.then(() => tell(change)).catch(reject);
        };
        stop = surveys.follow(id, add);
        add();
      });
    } catch (error) {
      log.error({ err: error, id }, 'changes failed');
    } finally {
      clearInterval(beat);
      stopping?.removeEventListener('abort', end);
      stop();
    }
  });
}
