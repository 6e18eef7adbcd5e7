import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { z } from 'zod';
import {
  madeShareSchema,
  type NewShare,
  newShareSchema,
  shareListSchema,
} from '../../shared/wire/accounts.ts';
import { getSignedIn, type Login } from '../accounts/visitor.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { body, idParam, json, problems } from './route-parts.ts';

const shareParam = idParam.extend({ shareId: z.string().max(64) });

/** Routes of the links that show one survey to an authority. */
export function addShareRoutes(app: OpenAPIHono, surveys: Surveys, getLogin: () => Login): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/shares',
      summary: 'The links that show this survey to whoever has them',
      request: { params: idParam },
      responses: { 200: json(shareListSchema, 'Links'), ...problems },
    }),
    async (c) => {
      const { id } = c.req.valid('param');
      const known = await surveys.revision(id);
      if (!known.ok) return toProblem(c, known.refusal) as never;
      return c.json({ shares: [...(await getLogin().shares.list(id))] }, 200);
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/shares',
      summary: 'Make a link; its token is told in the answer, once',
      request: { params: idParam, ...body(newShareSchema) },
      responses: { 201: json(madeShareSchema, 'The link and its token'), ...problems },
    }),
    async (c) => {
      const { account } = getSignedIn(c);
      const { id } = c.req.valid('param');
      const known = await surveys.revision(id);
      if (!known.ok) return toProblem(c, known.refusal) as never;
      const made = await getLogin().shares.make(id, c.req.valid('json') as NewShare, account);
      return c.json(made, 201);
    },
  );
  app.openapi(
    createRoute({
      method: 'delete',
      path: '/api/surveys/{id}/shares/{shareId}',
      summary: 'Take a link back; it ends at once',
      request: { params: shareParam },
      responses: { 204: { description: 'Gone' }, ...problems },
    }),
    async (c) => {
      const { id, shareId } = c.req.valid('param');
      const ended = await getLogin().shares.end(id, shareId);
      return (ended.ok ? c.body(null, 204) : toProblem(c, ended.refusal)) as never;
    },
  );
}
