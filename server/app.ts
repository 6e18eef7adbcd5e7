import { OpenAPIHono } from '@hono/zod-openapi';
import type { Context, Next } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { requestId } from 'hono/request-id';
import type { Logger } from 'pino';
import { RefusalError, refusal } from '../shared/outcome/refusal.ts';
import { guard, type Login } from './accounts/visitor.ts';
import type { OverpassClient } from './extracts/overpass-client.ts';
import { findEdition } from './find-edition.ts';
import { limitBody, refuseForeignHost, refuseForeignOrigin, secureHeaders } from './guards.ts';
import type { Jobs } from './jobs/jobs.ts';
import { runImportInWorker, runInWorker } from './jobs/run-in-worker.ts';
import { isOgcPath, toException } from './ogc/to-exception.ts';
import { toProblem } from './problem.ts';
import { addAccountRoutes } from './routes/accounts.ts';
import { addChangeRoutes } from './routes/changes.ts';
import { addEvidenceRoutes } from './routes/evidence.ts';
import { addHandOverRoutes } from './routes/hand-over.ts';
import { addHistoryRoutes } from './routes/history.ts';
import { addOgcRoutes } from './routes/ogc.ts';
import { addOpenApi } from './routes/open-api.ts';
import { addRankingRoutes } from './routes/ranking.ts';
import { addRevisionRoutes } from './routes/revisions.ts';
import { addSessionRoutes } from './routes/session.ts';
import { addShareRoutes } from './routes/shares.ts';
import { addSurveyRoutes } from './routes/surveys.ts';
import { addTileRoutes } from './routes/tiles.ts';
import { addWebRoutes } from './routes/web.ts';
import { startJobs } from './start-jobs.ts';
import { findStoreFault } from './store/find-store-fault.ts';
import type { Store } from './store/store.ts';
import { createDerivedSurveys } from './surveys/derived-surveys.ts';
import { createDriveMany } from './surveys/drive-many.ts';
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
  /** The names it answers under, beside this machine's own; undefined: under every name. */
  readonly names?: readonly string[];
  /** How people sign in; undefined: whoever reaches it may do everything. */
  readonly login?: Login;
  /** Fires when the server is told to stop. */
  readonly stopping?: AbortSignal;
  /** How many jobs it does itself at once, 1 by default; 0 where workers do them all. */
  readonly jobCount?: number;
};

/** `jobs` run until they are stopped. */
export type App = { readonly app: OpenAPIHono; readonly surveys: Surveys; readonly jobs: Jobs };

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
  const jobs = startJobs(deps);
  const edition = findEdition();
  const surveys = createSurveys({
    store: deps.store,
    derived: createDerivedSurveys(deps.store, createDriveMany({ ...deps, jobs, edition })),
    edition,
    jobs,
    now: deps.now,
    runImport: runImportInWorker,
    runRebuild: (task) => runInWorker<'rebuild'>({ kind: 'rebuild', task }),
    runCompare: (task) => runInWorker<'compare'>({ kind: 'compare', task }),
  });
  app.use(requestId());
  app.use(logRequests(deps.log));
  app.use(secureHeaders(deps.basemapStyleUrl, deps.login?.publicUrl));
  if (deps.names !== undefined) app.use(refuseForeignHost(deps.names));
  app.use(refuseForeignOrigin(deps.login?.publicUrl));
  app.use(guard(deps.login));
  app.use(limitBody());
  app.get('/healthz', (c) => c.json({ status: 'up' }));
  app.get('/readyz', async (c) => {
    // Any question will do; that one is cheap however many surveys there are.
    await deps.store.findSurvey('');
    return c.json({ status: 'ready' });
  });
  app.get('/api/config', (c) =>
    c.json({
      version: deps.version,
      ...(deps.basemapStyleUrl === undefined ? {} : { basemapStyleUrl: deps.basemapStyleUrl }),
    }),
  );
  const getLogin = () => {
    if (deps.login === undefined) throw new Error('this server has no accounts');
    return deps.login;
  };
  addSessionRoutes(app, getLogin);
  addAccountRoutes(app, getLogin);
  addShareRoutes(app, surveys, getLogin);
  addSurveyRoutes(app, surveys, deps);
  addRevisionRoutes(app, surveys, deps);
  addChangeRoutes(app, surveys, deps);
  addHistoryRoutes(app, surveys, deps.login?.accounts);
  addEvidenceRoutes(app, surveys);
  addRankingRoutes(app, surveys);
  addHandOverRoutes(app, surveys);
  addTileRoutes(app, surveys);
  addOpenApi(app, deps.version);
  addOgcRoutes(app, surveys, deps);
  if (deps.webRoot !== undefined) addWebRoutes(app, deps.webRoot);
  app.notFound((c) => toProblem(c, refusal('not-found', { path: c.req.path })));
  app.onError((error, c) => {
    // A request body that is malformed, or not called JSON, reaches us as an HTTPException of the framework.
    if (error instanceof HTTPException && error.status < 500) {
      const reason = error.status === 415 ? 'its content type must be application/json' : error.message;
      return toProblem(c, refusal('request-invalid', { reason }));
    }
    // What was to be computed for the answer was refused, or cancelled by somebody.
    if (error instanceof RefusalError) return toProblem(c, error.refusal);
    deps.log.error({ err: error, path: c.req.path, requestId: c.get('requestId') }, 'request failed');
    const ofStore = findStoreFault(error);
    if (ofStore !== undefined) return toProblem(c, ofStore);
    if (isOgcPath(c.req.path)) return toException(c, 500, { code: 'fault', description: FAULT });
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
  return { app, surveys, jobs };
}

const FAULT = 'A fault of the program; it was written to the log. Nothing was saved.';

/** One line for each answer; the request's id, which a proxy may have given it, ties it to what else was logged. */
function logRequests(log: Logger) {
  return async (c: Context, next: Next) => {
    const started = performance.now();
    await next();
    const { method, path } = c.req;
    const ms = Math.round(performance.now() - started);
    log.info({ requestId: c.get('requestId'), method, path, status: c.res.status, ms }, 'answered');
  };
}
