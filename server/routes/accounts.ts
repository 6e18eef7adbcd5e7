import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { z } from 'zod';
import {
  type AccountPatch,
  accountListSchema,
  accountPatchSchema,
  accountSchema,
  madePasswordSchema,
  type NewAccount,
  newAccountSchema,
} from '../../shared/wire/accounts.ts';
import type { Login } from '../accounts/visitor.ts';
import { toProblem } from '../problem.ts';
import { body, json, problems } from './route-parts.ts';

const accountParam = z.object({ accountId: z.string().max(64) });

/** Routes by which administrators keep the accounts. */
export function addAccountRoutes(app: OpenAPIHono, getLogin: () => Login): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/accounts',
      summary: 'All accounts',
      responses: { 200: json(accountListSchema, 'Accounts'), ...problems },
    }),
    async (c) => {
      return c.json({ accounts: [...(await getLogin().accounts.list())] }, 200);
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/accounts',
      summary: 'Make an account; its first password is told in the answer, once',
      request: body(newAccountSchema),
      responses: { 201: json(madePasswordSchema, 'The account and its password'), ...problems },
    }),
    async (c) => {
      const made = await getLogin().accounts.add(c.req.valid('json') as NewAccount);
      return (made.ok ? c.json(made.value, 201) : toProblem(c, made.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'patch',
      path: '/api/accounts/{accountId}',
      summary: 'Change name or role, close or open again; holds at once',
      request: { params: accountParam, ...body(accountPatchSchema) },
      responses: { 200: json(accountSchema, 'The account'), ...problems },
    }),
    async (c) => {
      const { accountId } = c.req.valid('param');
      const changed = await getLogin().accounts.change(accountId, c.req.valid('json') as AccountPatch);
      return (changed.ok ? c.json(changed.value, 200) : toProblem(c, changed.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/accounts/{accountId}/password',
      summary: 'Give an account a new password, told in the answer, once; its sessions end',
      request: { params: accountParam },
      responses: { 200: json(madePasswordSchema, 'The account and its password'), ...problems },
    }),
    async (c) => {
      const renewed = await getLogin().accounts.renewPassword(c.req.valid('param').accountId);
      return (renewed.ok ? c.json(renewed.value, 200) : toProblem(c, renewed.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'delete',
      path: '/api/accounts/{accountId}/sessions',
      summary: 'Sign an account out everywhere',
      request: { params: accountParam },
      responses: { 204: { description: 'Ended' }, ...problems },
    }),
    async (c) => {
      const ended = await getLogin().accounts.endSessions(c.req.valid('param').accountId);
      return (ended.ok ? c.body(null, 204) : toProblem(c, ended.refusal)) as never;
    },
  );
}
