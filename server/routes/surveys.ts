import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { streamSSE } from 'hono/streaming';
import type { Logger } from 'pino';
import { z } from 'zod';
import { refusal } from '../../shared/outcome/refusal.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import type { Command } from '../../shared/scheme/scheme.ts';
import {
  areaSchema,
  commandBatchSchema,
  layerSchema,
  reportSchema,
  rulePatchSchema,
  type SurveyView,
  schemeSchema,
  surveyListSchema,
  surveySchema,
} from '../../shared/wire/survey.ts';
import type { AppDeps } from '../app.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { answerGzip } from './answer-gzip.ts';
import { isUpload, receiveUpload } from './receive-upload.ts';
import { body, idParam, invalid, json, problems } from './route-parts.ts';

const layerParam = idParam.extend({ layer: layerSchema });
const complexParam = idParam.extend({ complexId: z.string().max(200) });
const areaRequest = z.object({ area: areaSchema, name: z.string().trim().min(1).max(200).optional() });

/** Routes of surveys, their layers and designs. */
export function addSurveyRoutes(app: OpenAPIHono, surveys: Surveys, deps: AppDeps): void {
  addCollection(app, surveys, deps);
  addOne(app, surveys, deps.log);
  addLayers(app, surveys);
  addDesigns(app, surveys);
}

function addCollection(app: OpenAPIHono, surveys: Surveys, deps: AppDeps): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys',
      summary: 'All surveys, running imports first',
      responses: { 200: json(surveyListSchema, 'Surveys') },
    }),
    async (c) => {
      const visitor = c.get('visitor');
      const isShown = ({ id }: SurveyView) => visitor.kind !== 'share' || visitor.share.surveyId === id;
      return c.json({ surveys: (await surveys.list()).filter(isShown) }, 200);
    },
  );

  // Written by hand: the body is a file (streamed to disk) or an area.
  app.openAPIRegistry.registerPath({
    method: 'post',
    path: '/api/surveys',
    summary: 'Start a survey from a file or an area; follow it at …/events',
    request: {
      body: {
        content: {
          'multipart/form-data': {
            schema: z.object({ file: z.string().meta({ format: 'binary' }), name: z.string().optional() }),
          },
          'application/json': { schema: areaRequest },
        },
      },
    },
    responses: { 202: json(surveySchema, 'The import has begun'), ...problems },
  });
  app.post('/api/surveys', async (c) => {
    // Before a large file is sent in vain.
    const room = await surveys.checkRoom();
    if (!room.ok) return toProblem(c, room.refusal);
    if (isUpload(c)) {
      const received = await receiveUpload(c.req.raw, deps.uploadLimitBytes);
      if (!received.ok) return toProblem(c, received.refusal);
      const { path, fileName, surveyName } = received.value;
      const name = surveyName ?? nameOf(fileName);
      return c.json(await surveys.startUpload({ path, name: fileName }, name), 202);
    }
    const parsed = areaRequest.safeParse(await c.req.json().catch(() => undefined));
    if (!parsed.success) return toProblem(c, invalid(parsed.error));
    const started = await surveys.startArea(parsed.data.area, parsed.data.name ?? 'Area');
    return started.ok ? c.json(started.value, 202) : toProblem(c, started.refusal);
  });

  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/overpass-preview',
      summary: 'What would be asked of the map server for an area',
      request: body(z.object({ area: areaSchema })),
      responses: {
        200: json(z.object({ query: z.string(), areaKm2: z.number() }), 'The question'),
        ...problems,
      },
    }),
    (c) => {
      const { area } = c.req.valid('json') as { area: z.infer<typeof areaSchema> };
      const preview = surveys.previewArea(area);
      return preview.ok ? c.json(preview.value, 200) : (toProblem(c, preview.refusal) as never);
    },
  );
}

function addOne(app: OpenAPIHono, surveys: Surveys, log: Logger): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}',
      summary: 'One survey with its counts, or how far its import is',
      request: { params: idParam },
      responses: { 200: json(surveySchema, 'The survey'), ...problems },
    }),
    async (c) => {
      const view = await surveys.view(c.req.valid('param').id);
      return view.ok ? c.json(view.value, 200) : (toProblem(c, view.refusal) as never);
    },
  );
  app.openapi(
    createRoute({
      method: 'patch',
      path: '/api/surveys/{id}',
      summary: 'Change the name or the rules for all tunnels',
      request: {
        params: idParam,
        ...body(
          z.strictObject({
            name: z.string().trim().min(1).max(200).optional(),
            rules: rulePatchSchema.optional(),
          }),
        ),
      },
      responses: { 200: json(surveySchema, 'The survey'), ...problems },
    }),
    async (c) => {
      const changed = await surveys.change(c.req.valid('param').id, c.req.valid('json') as object);
      return changed.ok ? c.json(changed.value, 200) : (toProblem(c, changed.refusal) as never);
    },
  );
  app.openapi(
    createRoute({
      method: 'delete',
      path: '/api/surveys/{id}',
      summary: 'Remove a survey, or end its import',
      request: { params: idParam },
      responses: { 204: { description: 'Gone' }, ...problems },
    }),
    async (c) => {
      const removed = await surveys.remove(c.req.valid('param').id);
      return removed.ok ? c.body(null, 204) : (toProblem(c, removed.refusal) as never);
    },
  );
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/events',
      summary: 'Server-sent events of an import: progress, then ready or refused',
      request: { params: idParam },
      responses: { 200: { description: 'text/event-stream' }, ...problems },
    }),
    async (c) => {
      const { id } = c.req.valid('param');
      const view = await surveys.view(id);
      return (view.ok ? streamEvents(c, surveys, view.value, log) : toProblem(c, view.refusal)) as never;
    },
  );
}

const HEARTBEAT_MS = 15_000;

/** Sends the present state at once and every change after it; ends with `ready` or `refused`. */
function streamEvents(c: Context, surveys: Surveys, asked: SurveyView, log: Logger): Response {
  const { id } = asked;
  return streamSSE(c, async (stream) => {
    const beat = setInterval(() => void stream.write(': still here\n\n'), HEARTBEAT_MS);
    let stop = () => {};
    try {
      await new Promise<void>((resolve, reject) => {
        const tell = async (change?: SurveyView) => {
          const known = await surveys.view(id);
          // A cancelled import is forgotten at once: then the change itself is the last word.
          const view = known.ok ? known.value : (change ?? toCancelled(asked));
          const { status, progress } = view;
          const isWorking = status === 'working';
          const data = JSON.stringify(isWorking ? progress : view);
          await stream.writeSSE({ event: isWorking ? 'progress' : status, data });
          if (!isWorking) resolve();
        };
        // Listening before the first word: nothing falls between the two.
        let queue: Promise<void> = Promise.resolve();
        const add = (view?: SurveyView) => {
          queue = queue.then(() => tell(view)).catch(reject);
        };
        stop = surveys.listen(id, add);
        add();
        stream.onAbort(resolve);
      });
    } catch (error) {
      log.error({ err: error, id }, 'events failed');
    } finally {
      clearInterval(beat);
      stop();
    }
  });
}

/** An import that was cancelled between two looks at it. */
function toCancelled({ progress: _, ...view }: SurveyView): SurveyView {
  const { code, context } = refusal('job-cancelled');
  const detail = describeRefusal({ code, context });
  return { ...view, status: 'refused', refusal: { code, context: { ...context }, detail } };
}

function addLayers(app: OpenAPIHono, surveys: Surveys): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/layers/{layer}',
      summary: 'One layer as GeoJSON (RFC 7946)',
      request: { params: layerParam },
      responses: { 200: { description: 'application/geo+json' }, ...problems },
    }),
    async (c) => {
      const { id, layer } = c.req.valid('param');
      const found = await surveys.layerGzip(id, layer);
      if (!found.ok) return toProblem(c, found.refusal) as never;
      const { bytes, version } = found.value;
      return answerGzip(c, bytes, `${id}-${version}-${layer}`, 'application/geo+json') as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/report',
      summary: 'What the import dropped or assumed',
      request: { params: idParam },
      responses: { 200: json(reportSchema, 'The import report'), ...problems },
    }),
    async (c) => {
      const found = await surveys.report(c.req.valid('param').id);
      return (found.ok ? c.json(found.value, 200) : toProblem(c, found.refusal)) as never;
    },
  );
}

function addDesigns(app: OpenAPIHono, surveys: Surveys): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/complexes/{complexId}',
      summary: 'One tunnel: its network, the survey’s rules and its scheme',
      request: { params: complexParam },
      responses: {
        200: json(z.object({ network: z.unknown(), rules: z.unknown(), scheme: schemeSchema }), 'The tunnel'),
        ...problems,
      },
    }),
    async (c) => {
      const { id, complexId } = c.req.valid('param');
      const found = await surveys.complex(id, complexId);
      return (found.ok ? c.json(found.value, 200) : toProblem(c, found.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/complexes/{complexId}/commands',
      summary: 'Edit a scheme: the whole batch or nothing, on top of baseRevision',
      request: { params: complexParam, ...body(commandBatchSchema) },
      responses: { 200: json(z.object({ scheme: schemeSchema }), 'The scheme after the edits'), ...problems },
    }),
    async (c) => {
      const { id, complexId } = c.req.valid('param');
      const batch = c.req.valid('json') as z.infer<typeof commandBatchSchema>;
      const edited = await surveys.edit(id, complexId, {
        baseRevision: batch.baseRevision,
        commands: batch.commands as unknown as readonly Command[],
      });
      if (!edited.ok) return toProblem(c, edited.refusal) as never;
      const { scheme } = edited.value;
      if (edited.value.kind === 'saved') return c.json({ scheme }, 200) as never;
      const { missed } = edited.value;
      return toProblem(c, refusal('revision-stale', { revision: scheme.revision }), {
        missed,
        scheme,
      }) as never;
    },
  );
}

/** `harbour.osm.pbf` becomes `harbour`. */
function nameOf(fileName: string): string {
  return fileName.replace(/(\.osm)?\.(pbf|osm|xml|json|gz|bz2)(\.(gz|bz2))?$/i, '') || fileName;
}
