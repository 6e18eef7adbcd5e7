import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { z } from 'zod';
import { comparisonSchema } from '../../shared/wire/comparison.ts';
import { surveyEditSchema, surveySchema } from '../../shared/wire/survey.ts';
import type { AppDeps } from '../app.ts';
import { toProblem } from '../problem.ts';
import type { SurveyEdit } from '../surveys/revise-survey.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { isUpload, receiveUpload } from './receive-upload.ts';
import { body, idParam, invalid, json, problems } from './route-parts.ts';

const againRequest = z.strictObject({ again: z.literal(true) });

/** Routes that make a survey's network another one: joins and splits by hand, newer extracts. */
export function addRevisionRoutes(app: OpenAPIHono, surveys: Surveys, deps: AppDeps): void {
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/commands',
      summary: 'Join or split tunnels, take that back, or adopt the newer extract',
      request: { params: idParam, ...body(surveyEditSchema) },
      responses: { 200: json(surveySchema, 'The survey after the edit'), ...problems },
    }),
    async (c) => {
      const revised = await surveys.revise(c.req.valid('param').id, c.req.valid('json') as SurveyEdit);
      return (revised.ok ? c.json(revised.value, 200) : toProblem(c, revised.refusal)) as never;
    },
  );
  // Written by hand: the body is a file (streamed to disk), or asks for the same area again.
  app.openAPIRegistry.registerPath({
    method: 'post',
    path: '/api/surveys/{id}/candidate',
    summary:
      'Read a newer extract to compare the survey with; follow it at the events of the id that is answered',
    request: {
      params: idParam,
      body: {
        content: {
          'multipart/form-data': { schema: z.object({ file: z.string().meta({ format: 'binary' }) }) },
          'application/json': { schema: againRequest },
        },
      },
    },
    responses: { 202: json(surveySchema, 'The reading has begun'), ...problems },
  });
  app.post('/api/surveys/:id/candidate', async (c) => {
    const { id } = c.req.param();
    const room = await surveys.checkRoom();
    if (!room.ok) return toProblem(c, room.refusal);
    if (isUpload(c)) {
      const known = await surveys.view(id);
      if (!known.ok) return toProblem(c, known.refusal);
      const received = await receiveUpload(c.req.raw, deps.uploadLimitBytes);
      if (!received.ok) return toProblem(c, received.refusal);
      const { path, fileName } = received.value;
      const started = await surveys.startCandidate(id, { path, name: fileName });
      return started.ok ? c.json(started.value, 202) : toProblem(c, started.refusal);
    }
    const parsed = againRequest.safeParse(await c.req.json().catch(() => undefined));
    if (!parsed.success) return toProblem(c, invalid(parsed.error));
    const started = await surveys.startCandidate(id, undefined);
    return started.ok ? c.json(started.value, 202) : toProblem(c, started.refusal);
  });
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/comparison',
      summary:
        'What adopting the newer extract would change: tunnels, links, and every beacon’s way in metres',
      request: { params: idParam },
      responses: { 200: json(comparisonSchema, 'The comparison'), ...problems },
    }),
    async (c) => {
      const compared = await surveys.compare(c.req.valid('param').id);
      return (compared.ok ? c.json(compared.value, 200) : toProblem(c, compared.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'delete',
      path: '/api/surveys/{id}/candidate',
      summary: 'Forget the newer extract',
      request: { params: idParam },
      responses: { 204: { description: 'Gone' }, ...problems },
    }),
    async (c) => {
      const discarded = await surveys.discardCandidate(c.req.valid('param').id);
      return discarded.ok ? c.body(null, 204) : (toProblem(c, discarded.refusal) as never);
    },
  );
}
