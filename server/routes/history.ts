import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import { revisionComparisonSchema } from '../../shared/wire/comparison.ts';
import {
  type GoBackRequest,
  goBackSchema,
  type HistoryView,
  historySchema,
} from '../../shared/wire/history.ts';
import { surveySchema } from '../../shared/wire/survey.ts';
import type { Accounts } from '../accounts/accounts.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { body, idParam, json, problems } from './route-parts.ts';

const revisionParam = idParam.extend({ revision: z.coerce.number().int().min(0) });
const pageQuery = z.object({ before: z.coerce.number().int().min(0).optional() });

/** Routes of a survey's history: who did what when, and going back. */
export function addHistoryRoutes(app: OpenAPIHono, surveys: Surveys, accounts?: Accounts): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/revisions',
      summary: 'Who did what when, the newest first, by pages',
      request: { params: idParam, query: pageQuery },
      responses: { 200: json(historySchema, 'A page of the history'), ...problems },
    }),
    async (c) => {
      const page = await surveys.history(c.req.valid('param').id, c.req.valid('query').before);
      return (
        page.ok ? c.json(await nameAccounts(page.value, accounts), 200) : toProblem(c, page.refusal)
      ) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/revisions/{revision}/comparison',
      summary: 'What became of the survey since a revision: tunnels, links, beacons',
      request: { params: revisionParam },
      responses: { 200: json(revisionComparisonSchema, 'The comparison'), ...problems },
    }),
    async (c) => {
      const { id, revision } = c.req.valid('param');
      const compared = await surveys.compareWithNow(id, revision);
      return (compared.ok ? c.json(compared.value, 200) : toProblem(c, compared.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/revisions/{revision}/restore',
      summary: 'Make the survey again what it was at a revision, as a new revision',
      request: { params: revisionParam, ...body(goBackSchema) },
      responses: { 200: json(surveySchema, 'The survey'), ...problems },
    }),
    async (c) => {
      const { id, revision } = c.req.valid('param');
      const changed = await surveys.goBack(id, revision, c.req.valid('json') as GoBackRequest);
      return (changed.ok ? c.json(changed.value, 200) : toProblem(c, changed.refusal)) as never;
    },
  );
}

/** People are told by name; an account that is not known here, from a backup, is told by nothing. */
async function nameAccounts(page: HistoryView, accounts: Accounts | undefined): Promise<HistoryView> {
  const ids = new Set(page.revisions.flatMap(({ by }) => (by === undefined ? [] : [by])));
  const names = (await accounts?.names(ids)) ?? new Map<string, string>();
  const revisions = page.revisions.map(({ by, ...revision }) => {
    const name = by === undefined ? undefined : names.get(by);
    return name === undefined ? revision : { ...revision, by: name };
  });
  return { ...page, revisions };
}
