import { OpenAPIHono } from '@hono/zod-openapi';
import type { Context, Next } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { HTTPException } from 'hono/http-exception';
import type { Logger } from 'pino';
import { refusal } from '../shared/outcome/refusal.ts';
import type { OverpassClient } from './extracts/overpass-client.ts';
import { createImportJobs } from './jobs/import-jobs.ts';
import { runInWorker } from './jobs/run-in-worker.ts';
import { toProblem } from './problem.ts';
import { addEvidenceRoutes, EVIDENCE_LIMIT_BYTES, EVIDENCE_PATHS } from './routes/evidence.ts';
import { addOpenApi } from './routes/open-api.ts';
import { addRankingRoutes } from './routes/ranking.ts';
import { isUpload } from './routes/receive-upload.ts';
import { addRevisionRoutes } from './routes/revisions.ts';
import { addSurveyRoutes } from './routes/surveys.ts';
import { addWebRoutes } from './routes/web.ts';
import type { Store } from './store/store.ts';
import { createDerivedSurveys } from './surveys/derived-surveys.ts';
import { createSurveys, type Surveys } from './surveys/surveys.ts';

/** What the application is given; it reads no environment of its own. */
export type AppDeps = {
  readonly store: Store;
  readonly overpass: OverpassClient;
  readonly log: Logger;
  /** Folder of the built web app; without it only the API is served. */
  readonly webRoot?: string;
  /** A map style that lies under the built-in map. */
  readonly basemapStyleUrl?: string;
  /** Largest upload, bytes. */
  readonly uploadLimitBytes: number;
  readonly version: string;
  readonly now: () => Date;
};

export type App = { readonly app: OpenAPIHono; readonly surveys: Surveys };

/** Wires routes, jobs and store. */
export function createApp(deps: AppDeps): App {
  const app = new OpenAPIHono({
    defaultHook: (result, c) => {
      if (result.success) return;
      const reason = result.error.issues
        .map((issue) => `${issue.path.join('.') || 'body'}: ${issue.message}`)
        .join('; ');
      return toProblem(c, refusal('request-invalid', { reason }));
    },
  });
  const surveys = createSurveys({
    store: deps.store,
    derived: createDerivedSurveys(deps.store),
    jobs: createImportJobs((error) => deps.log.error({ err: error }, 'import failed')),
    overpass: deps.overpass,
    now: deps.now,
    runImport: (task, report, signal) => runInWorker<'import'>({ kind: 'import', task }, report, signal),
    runRebuild: (task) => runInWorker<'rebuild'>({ kind: 'rebuild', task }),
  });
  app.use(secureHeaders(deps.basemapStyleUrl));
  app.use(refuseForeignOrigin);
  app.use(limitBody());
  app.get('/healthz', (c) => c.json({ status: 'up' }));
  app.get('/readyz', async (c) => {
    await deps.store.listSurveys();
    return c.json({ status: 'ready' });
  });
  app.get('/api/config', (c) =>
    c.json({
      version: deps.version,
      ...(deps.basemapStyleUrl === undefined ? {} : { basemapStyleUrl: deps.basemapStyleUrl }),
    }),
  );
  addSurveyRoutes(app, surveys, deps);
  addRevisionRoutes(app, surveys, deps);
  addEvidenceRoutes(app, surveys);
  addRankingRoutes(app, surveys);
  addOpenApi(app, deps.version);
  if (deps.webRoot !== undefined) addWebRoutes(app, deps.webRoot);
  app.notFound((c) => toProblem(c, refusal('not-found', { path: c.req.path })));
  app.onError((error, c) => {
    // A request body that is malformed, or not called JSON, reaches us as an HTTPException of the framework.
    if (error instanceof HTTPException && error.status < 500) {
      const reason = error.status === 415 ? 'its content type must be application/json' : error.message;
      return toProblem(c, refusal('request-invalid', { reason }));
    }
    deps.log.error({ err: error, path: c.req.path }, 'request failed');
    return c.body(
      JSON.stringify({
        type: 'about:blank',
        title: 'fault',
        status: 500,
        code: 'fault',
        context: {},
        detail: FAULT,
      }),
      500,
      { 'content-type': 'application/problem+json' },
    );
  });
  return { app, surveys };
}

const FAULT = 'A fault of the program; it was written to the log. Nothing was saved.';

/** The script of the worker that runs the solver: a worker lives by the policy of its own script. */
const SOLVER_SCRIPT = /^\/assets\/solve-worker-[\w-]+\.js$/;

/**
 * No inline script or style, nothing from elsewhere, unless the operator names a base map. Only the solver's worker may
 * compile WebAssembly.
 */
function secureHeaders(basemapStyleUrl: string | undefined) {
  const elsewhere = basemapStyleUrl === undefined ? '' : ` ${new URL(basemapStyleUrl).origin}`;
  const toPolicy = (scripts: string) =>
    [
      "default-src 'none'",
      `script-src ${scripts}`,
      "style-src 'self'",
      `img-src 'self' data:${elsewhere}`,
      "font-src 'self'",
      `connect-src 'self'${elsewhere}`,
      "worker-src 'self'",
      "manifest-src 'self'",
      "base-uri 'none'",
      "form-action 'none'",
      "frame-ancestors 'none'",
    ].join('; ');
  const policy = toPolicy("'self'");
  const solverPolicy = toPolicy("'self' 'wasm-unsafe-eval'");
  return async (c: Context, next: Next) => {
    await next();
    c.header('content-security-policy', SOLVER_SCRIPT.test(c.req.path) ? solverPolicy : policy);
    c.header('x-content-type-options', 'nosniff');
    c.header('referrer-policy', 'no-referrer');
    c.header('cross-origin-opener-policy', 'same-origin');
  };
}

/** Another site's page must not change anything here: a browser says where a changing request comes from. */
async function refuseForeignOrigin(c: Context, next: Next): Promise<Response | undefined> {
  const origin = c.req.header('origin');
  const isReading = c.req.method === 'GET' || c.req.method === 'HEAD';
  if (!isReading && origin !== undefined && hostOf(origin) !== c.req.header('host')) {
    return toProblem(c, refusal('request-foreign'));
  }
  await next();
  return undefined;
}

/** Far above any batch of edits or outline of an area; uploads stream to disk and have a limit of their own. */
const BODY_LIMIT_BYTES = 1e6;

/** Such bodies are read into memory whole: without a limit one request could take all of it. */
function limitBody() {
  const limitOther = limitTo(BODY_LIMIT_BYTES);
  const limitEvidence = limitTo(EVIDENCE_LIMIT_BYTES);
  return (c: Context, next: Next) => {
    if (isUpload(c)) return next();
    const isEvidence = c.req.method === 'PUT' && EVIDENCE_PATHS.test(c.req.path);
    return (isEvidence ? limitEvidence : limitOther)(c, next);
  };
}

function limitTo(maxSize: number) {
  const limit = `${maxSize / 1e6} MB`;
  return bodyLimit({ maxSize, onError: (c) => toProblem(c, refusal('request-too-large', { limit })) });
}

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? new URL(origin).host : undefined;
}
