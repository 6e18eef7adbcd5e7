import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import {
  drivesSchema,
  type ProgrammeRequest,
  programmeRequestSchema,
  programmeSchema,
  type RankingRequest,
  rankingRequestSchema,
  rankingSchema,
} from '../../shared/wire/ranking.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { body, idParam, json, problems } from './route-parts.ts';

/** Routes that tell which tunnel to equip first, and which in which year. They change nothing. */
export function addRankingRoutes(app: OpenAPIHono, surveys: Surveys): void {
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/ranking',
      summary: 'Which tunnel first, with the working of every figure and the range of each rank',
      request: { params: idParam, ...body(rankingRequestSchema) },
      responses: { 200: json(rankingSchema, 'The ranking'), ...problems },
    }),
    async (c) => {
      const ranked = await surveys.rank(c.req.valid('param').id, c.req.valid('json') as RankingRequest);
      return (ranked.ok ? c.json(ranked.value, 200) : toProblem(c, ranked.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/drives',
      summary: 'How far the simulated drives are that a ranking or a layer waits for',
      request: { params: idParam },
      responses: { 200: json(drivesSchema, 'Tunnels driven, and of how many'), ...problems },
    }),
    async (c) => {
      const drives = await surveys.drives(c.req.valid('param').id);
      return (drives.ok ? c.json(drives.value, 200) : toProblem(c, drives.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'delete',
      path: '/api/surveys/{id}/drives',
      summary: 'End them; what waits for them is refused as job-cancelled',
      request: { params: idParam },
      responses: { 204: { description: 'Ended' }, ...problems },
    }),
    async (c) => {
      const ended = await surveys.cancelDrives(c.req.valid('param').id);
      return (ended.ok ? c.body(null, 204) : toProblem(c, ended.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/programme',
      summary:
        'Which tunnels in which year, within a budget and closure nights; may take up to half a minute',
      request: { params: idParam, ...body(programmeRequestSchema) },
      responses: { 200: json(programmeSchema, 'The programme'), ...problems },
    }),
    async (c) => {
      const request = c.req.valid('json') as ProgrammeRequest;
      const planned = await surveys.plan(c.req.valid('param').id, request, c.req.raw.signal);
      return (planned.ok ? c.json(planned.value, 200) : toProblem(c, planned.refusal)) as never;
    },
  );
}
