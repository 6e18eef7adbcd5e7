import { SCHEMAS } from './api-schemas.ts';
import { COLLECTION_IDS } from './collections.ts';
import { GEOJSON_TYPE, HTML_TYPE, JSON_TYPE, OPENAPI_TYPE, type Paths } from './links.ts';
import { ANSWER_WORDS, PARAMETER_WORDS, PATH_WORDS, WORDS } from './ogc-words.ts';
import { ITEMS_PARAMETERS, LIMIT, OTHER_PARAMETERS } from './read-parameters.ts';

type ParameterName = keyof typeof PARAMETER_WORDS;
export type ApiDescription = ReturnType<typeof toApiDescription>;

/** The service as OpenAPI 3.0; `publicUrl` where people sign in. */
export function toApiDescription(paths: Paths, version: string, publicUrl: string | undefined) {
  const hasAccounts = publicUrl !== undefined;
  const get = (
    name: keyof typeof PATH_WORDS,
    schema: keyof typeof SCHEMAS | undefined,
    type: string,
    parameters: readonly ParameterName[],
  ) => ({
    get: {
      summary: PATH_WORDS[name],
      operationId: name,
      parameters: parameters.map((parameter) => ({ $ref: `#/components/parameters/${parameter}` })),
      responses: {
        200: {
          description: ANSWER_WORDS.ok,
          content: {
            [type]: {
              schema: schema === undefined ? { type: 'object' } : { $ref: `#/components/schemas/${schema}` },
            },
            [HTML_TYPE]: { schema: { type: 'string' } },
          },
        },
        ...toErrors(hasAccounts, parameters.includes('collectionId')),
      },
    },
  });
  return {
    openapi: '3.0.3',
    info: {
      title: WORDS.title,
      version,
      description: WORDS.description,
      license: { name: WORDS.licence, url: 'https://opendatacommons.org/licenses/odbl/1-0/' },
    },
    servers: [{ url: paths.base }],
    paths: {
      '/': get('landing', 'landing', JSON_TYPE, OTHER_PARAMETERS),
      '/conformance': get('conformance', 'conformance', JSON_TYPE, OTHER_PARAMETERS),
      '/api': get('api', undefined, OPENAPI_TYPE, OTHER_PARAMETERS),
      '/collections': get('collections', 'collections', JSON_TYPE, OTHER_PARAMETERS),
      '/collections/{collectionId}': get('collection', 'collection', JSON_TYPE, [
        'collectionId',
        ...OTHER_PARAMETERS,
      ]),
      '/collections/{collectionId}/items': get('items', 'items', GEOJSON_TYPE, [
        'collectionId',
        ...ITEMS_PARAMETERS,
      ]),
      '/collections/{collectionId}/items/{featureId}': get('item', 'item', GEOJSON_TYPE, [
        'collectionId',
        'featureId',
        ...OTHER_PARAMETERS,
      ]),
    },
    components: {
      parameters: PARAMETERS,
      schemas: SCHEMAS,
      ...(hasAccounts ? { securitySchemes: toSecurity(publicUrl) } : {}),
    },
    ...(hasAccounts ? { security: [{ shareToken: [] }, { session: [] }] } : {}),
  };
}

function toErrors(hasAccounts: boolean, mayMiss: boolean) {
  const { badRequest, unauthorized, notFound, notAcceptable, fault } = ANSWER_WORDS;
  const words: Readonly<Record<string, string>> = {
    400: badRequest,
    ...(hasAccounts ? { 401: unauthorized } : {}),
    ...(mayMiss ? { 404: notFound } : {}),
    406: notAcceptable,
    500: fault,
  };
  const content = { [JSON_TYPE]: { schema: { $ref: '#/components/schemas/exception' } } };
  return Object.fromEntries(
    Object.entries(words).map(([status, description]) => [status, { description, content }]),
  );
}

function toSecurity(publicUrl: string) {
  // Browsers keep a cookie of that prefix from everything but https.
  const name = `${publicUrl.startsWith('https:') ? '__Secure-' : ''}boremark.session_token`;
  return {
    shareToken: { type: 'http', scheme: 'bearer', description: ANSWER_WORDS.bearer },
    session: { type: 'apiKey', in: 'cookie', name, description: ANSWER_WORDS.session },
  };
}

const numbers = (least: number, most: number) => ({
  type: 'array',
  minItems: least,
  maxItems: most,
  items: { type: 'number' },
});

const query = (name: ParameterName, schema: object, more: object = {}) => ({
  name,
  in: 'query',
  required: false,
  description: PARAMETER_WORDS[name],
  schema,
  ...more,
});

const path = (name: ParameterName, schema: object) => ({
  name,
  in: 'path',
  required: true,
  description: PARAMETER_WORDS[name],
  schema,
});

const PARAMETERS: Readonly<Record<ParameterName, object>> = {
  f: query('f', { type: 'string', enum: ['json', 'html'] }),
  limit: query('limit', { type: 'integer', minimum: LIMIT.least, maximum: LIMIT.most, default: LIMIT.usual }),
  offset: query('offset', { type: 'integer', minimum: 0, default: 0 }),
  // The standard's own form: four or six numbers.
  bbox: query('bbox', { oneOf: [numbers(4, 4), numbers(6, 6)] }, { style: 'form', explode: false }),
  datetime: query('datetime', { type: 'string' }),
  survey: query('survey', { type: 'string' }),
  collectionId: path('collectionId', { type: 'string', enum: COLLECTION_IDS }),
  featureId: path('featureId', { type: 'string' }),
};
