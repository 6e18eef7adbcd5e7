import type { OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { AppDeps } from '../app.ts';
import { toApiDescription } from '../ogc/api-description.ts';
import { toApiPage } from '../ogc/api-page.ts';
import type { Format } from '../ogc/choose-format.ts';
import { COLLECTION_IDS, type CollectionId, findCollection } from '../ogc/collections.ts';
import { toCollection, toCollections, toConformance, toLanding } from '../ogc/documents.ts';
import { createFeatureIndexes, type GetFeatures } from '../ogc/feature-indexes.ts';
import { findItem } from '../ogc/find-item.ts';
import type { Html } from '../ogc/layout.ts';
import {
  GEOJSON_TYPE,
  JSON_TYPE,
  makePaths,
  OPENAPI_TYPE,
  type Paths,
  selfLinks,
  withParameters,
} from '../ogc/links.ts';
import {
  toCollectionPage,
  toCollectionsPage,
  toConformancePage,
  toItemPage,
  toItemsPage,
  toLandingPage,
} from '../ogc/pages.ts';
import {
  ITEMS_PARAMETERS,
  OTHER_PARAMETERS,
  type Parameters,
  readFormat,
  readItemsQuery,
  readParameters,
} from '../ogc/read-parameters.ts';
import { selectItems } from '../ogc/select-items.ts';
import { createShownSurveys } from '../ogc/shown-surveys.ts';
import { STYLE } from '../ogc/style.ts';
import { streamItems, toItem, toPageMembers, toSingleItem } from '../ogc/to-items.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';

type Deps = Pick<AppDeps, 'store' | 'login' | 'now' | 'version'>;

/** What a page is asked for. */
type Asked = {
  readonly c: Context;
  readonly paths: Paths;
  readonly parameters: Parameters;
  readonly format: Format;
};

type Parts = {
  readonly listShown: ReturnType<typeof createShownSurveys>;
  readonly getFeatures: GetFeatures;
  readonly getPage: ReturnType<typeof makeRoutes>;
};

/** OGC API – Features, part 1 (OGC 17-069r4), over all surveys that the visitor is shown. */
export function addOgcRoutes(app: OpenAPIHono, surveys: Surveys, deps: Deps): void {
  const parts: Parts = {
    listShown: createShownSurveys(surveys, deps.store),
    getFeatures: createFeatureIndexes(surveys, deps.store),
    getPage: makeRoutes(app, deps.login?.publicUrl),
  };
  app.get('/ogc/style.css', (c) => c.body(STYLE, 200, { 'content-type': 'text/css; charset=utf-8' }));
  addService(parts, deps);
  addCollections(parts);
  addItems(parts, deps.now);
}

function addService({ listShown, getPage }: Parts, { version, login }: Deps): void {
  for (const path of ['/ogc', '/ogc/']) {
    getPage(path, JSON_TYPE, OTHER_PARAMETERS, async ({ c, paths, format }) => {
      const document = toLanding(paths, await listShown(c.get('visitor')), format);
      return answer(c, format, JSON_TYPE, document, () => toLandingPage(paths, document));
    });
  }
  getPage('/ogc/conformance', JSON_TYPE, OTHER_PARAMETERS, async ({ c, paths, format }) => {
    const document = toConformance(paths, format);
    return answer(c, format, JSON_TYPE, document, () => toConformancePage(paths, document));
  });
  getPage('/ogc/api', OPENAPI_TYPE, OTHER_PARAMETERS, async ({ c, paths, format }) => {
    const document = toApiDescription(paths, version, login?.publicUrl);
    const links = selfLinks((f) => withParameters(paths.api, { f }), format, OPENAPI_TYPE);
    return answer(c, format, OPENAPI_TYPE, document, () => toApiPage(paths, document, links));
  });
}

function addCollections({ listShown, getPage }: Parts): void {
  getPage('/ogc/collections', JSON_TYPE, OTHER_PARAMETERS, async ({ c, paths, format }) => {
    const document = toCollections(paths, await listShown(c.get('visitor')), format);
    return answer(c, format, JSON_TYPE, document, () => toCollectionsPage(paths, document));
  });
  getPage('/ogc/collections/:collectionId', JSON_TYPE, OTHER_PARAMETERS, async ({ c, paths, format }) => {
    const id = readCollection(c);
    if (!id.ok) return toProblem(c, id.refusal);
    const shown = await listShown(c.get('visitor'));
    const document = toCollection(id.value, paths, shown, format);
    return answer(c, format, JSON_TYPE, document, () => toCollectionPage(paths, document, shown));
  });
}

function addItems({ listShown, getFeatures, getPage }: Parts, now: AppDeps['now']): void {
  getPage('/ogc/collections/:collectionId/items', GEOJSON_TYPE, ITEMS_PARAMETERS, async (asked) => {
    const { c, paths, parameters, format } = asked;
    const id = readCollection(c);
    if (!id.ok) return toProblem(c, id.refusal);
    const shown = await listShown(c.get('visitor'));
    const query = readItemsQuery(
      parameters,
      shown.map((survey) => survey.id),
      format,
    );
    if (!query.ok) return toProblem(c, query.refusal);
    const page = await selectItems(shown, id.value, query.value, getFeatures);
    const told = { collection: id.value, parameters, surveys: shown, format, paths, now: now() };
    const members = toPageMembers(page, query.value, told);
    if (format === 'json') return c.body(streamItems(page, members), 200, { 'content-type': GEOJSON_TYPE });
    const features = [...page.items()].map(toItem);
    return c.html(toItemsPage(paths, id.value, members, features, query.value.offset));
  });
  getPage(
    '/ogc/collections/:collectionId/items/:featureId',
    GEOJSON_TYPE,
    OTHER_PARAMETERS,
    async (asked) => {
      const { c, paths, format } = asked;
      const id = readCollection(c);
      if (!id.ok) return toProblem(c, id.refusal);
      const featureId = c.req.param('featureId') ?? '';
      const item = await findItem(await listShown(c.get('visitor')), id.value, featureId, getFeatures);
      if (!item.ok) return toProblem(c, item.refusal);
      const document = toSingleItem(item.value, id.value, paths, format);
      return answer(c, format, GEOJSON_TYPE, document, () => toItemPage(paths, id.value, document));
    },
  );
}

/** Makes the function that adds a page: its parameters and format are read before it is asked. */
function makeRoutes(app: OpenAPIHono, publicUrl: string | undefined) {
  return (
    path: string,
    jsonType: string,
    known: readonly string[],
    make: (asked: Asked) => Promise<Response>,
  ): void => {
    app.get(path, async (c) => {
      // Which of the two formats it is may depend on the header; what it holds, on who asks.
      c.header('vary', 'accept');
      c.header('cache-control', 'no-cache');
      const url = new URL(c.req.url);
      const parameters = readParameters(url.searchParams, known);
      if (!parameters.ok) return toProblem(c, parameters.refusal);
      const format = readFormat(parameters.value, c.req.header('accept'), jsonType);
      if (!format.ok) return toProblem(c, format.refusal);
      const paths = makePaths(`${publicUrl ?? url.origin}/ogc`);
      return make({ c, paths, parameters: parameters.value, format: format.value });
    });
  };
}

function readCollection(c: Context): Result<CollectionId> {
  const id = c.req.param('collectionId') ?? '';
  const found = findCollection(id);
  if (found !== undefined) return done(found);
  return refused(refusal('collection-unknown', { id, known: COLLECTION_IDS.join(', ') }));
}

async function answer(
  c: Context,
  format: Format,
  jsonType: string,
  document: object,
  makePage: () => Html,
): Promise<Response> {
  if (format === 'html') return c.html(makePage());
  return c.body(JSON.stringify(document), 200, { 'content-type': jsonType });
}
