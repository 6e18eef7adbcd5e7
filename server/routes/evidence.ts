import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { z } from 'zod';
import { evidenceReportSchema } from '../../shared/wire/ranking.ts';
import { surveySchema } from '../../shared/wire/survey.ts';
import { toProblem } from '../problem.ts';
import type { EvidenceKind } from '../surveys/evidence-view.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { idParam, invalid, json, problems } from './route-parts.ts';

/** Counts of a whole country's roads are far smaller. */
export const EVIDENCE_LIMIT_BYTES = 20e6;

/** The requests that bring such a file; they may be larger than others. */
export const EVIDENCE_PATHS = /^\/api\/surveys\/[^/]+\/(traffic|existing)$/;

const text = z.string().meta({ format: 'binary' });

const KINDS: Readonly<
  Record<EvidenceKind, { readonly what: string; readonly content: Record<string, { schema: typeof text }> }>
> = {
  traffic: { what: 'counts of traffic (CSV)', content: { 'text/csv': { schema: text } } },
  existing: {
    what: 'beacons that are there already (CSV or GeoJSON)',
    content: { 'text/csv': { schema: text }, 'application/geo+json': { schema: text } },
  },
};

/** Routes that bring files of evidence to a survey, tell what became of them, and take them away. */
export function addEvidenceRoutes(app: OpenAPIHono, surveys: Surveys): void {
  addKind(app, surveys, 'traffic');
  addKind(app, surveys, 'existing');
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/evidence',
      summary: 'What became of each row of the files that were brought',
      request: { params: idParam },
      responses: { 200: json(evidenceReportSchema, 'The report'), ...problems },
    }),
    async (c) => {
      const report = await surveys.evidence(c.req.valid('param').id);
      return report.ok ? c.json(report.value, 200) : (toProblem(c, report.refusal) as never);
    },
  );
}

function addKind(app: OpenAPIHono, surveys: Surveys, kind: EvidenceKind): void {
  const { what, content } = KINDS[kind];
  const query = z.object({ name: z.string().trim().min(1).max(200).optional() });
  const responses = { 200: json(surveySchema, 'The survey'), ...problems };
  const path = `/api/surveys/{id}/${kind}`;

  // Written by hand: the body is a file, told by its content and not by what its type is called.
  app.openAPIRegistry.registerPath({
    method: 'put',
    path,
    summary: `Bring ${what}, in place of those before; at most ${EVIDENCE_LIMIT_BYTES / 1e6} MB`,
    request: { params: idParam, query, body: { required: true, content } },
    responses,
  });
  app.put(`/api/surveys/:id/${kind}`, async (c) => {
    const asked = query.safeParse(c.req.query());
    if (!asked.success) return toProblem(c, invalid(asked.error));
    const bytes = new Uint8Array(await c.req.arrayBuffer());
    const file = { name: asked.data.name ?? kind, bytes };
    const changed = await surveys.bringEvidence(c.req.param('id'), kind, file);
    return changed.ok ? c.json(changed.value, 200) : toProblem(c, changed.refusal);
  });
  app.openapi(
    createRoute({
      method: 'delete',
      path,
      summary: `Take away the ${what}`,
      request: { params: idParam },
      responses,
    }),
    async (c) => {
      const changed = await surveys.removeEvidence(c.req.valid('param').id, kind);
      return changed.ok ? c.json(changed.value, 200) : (toProblem(c, changed.refusal) as never);
    },
  );
}
