import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { z } from 'zod';
import {
  FORMAT_NAMES,
  HAND_OVER_FORMATS,
  type HandOverRequest,
  handOverPreviewSchema,
  handOverRequestSchema,
} from '../../shared/wire/hand-over.ts';
import { EXPORTED_LAYERS } from '../../shared/wire/layers.ts';
import { toStream } from '../hand-over/to-stream.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { body, idParam, json, problems } from './route-parts.ts';

const list = z.string().max(20_000).optional();
const handOverQuery = z.object({
  tunnels: list.describe('Ids of tunnels with commas between them; all of them where it is left out.'),
  layers: list.describe(
    `Of ${EXPORTED_LAYERS.join(', ')}, with commas; all that the format holds where it is left out.`,
  ),
  format: z
    .string()
    .max(50)
    .optional()
    .describe(`One of ${FORMAT_NAMES.join(', ')}; zip where it is left out.`),
});
const mediaTypes = [...new Set(Object.values(HAND_OVER_FORMATS).map(({ mediaType }) => mediaType))];
const files = {
  200: {
    description: 'The file, under the survey’s name',
    content: Object.fromEntries(
      mediaTypes.map((type) => [type, { schema: z.string().meta({ format: 'binary' }) }]),
    ),
  },
  ...problems,
};

/** The hand-over: by a link, or by a longer list of tunnels than a link can hold. */
export function addHandOverRoutes(app: OpenAPIHono, surveys: Surveys): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/surveys/{id}/export',
      summary:
        'Chosen tunnels and layers of a survey as a file: a package of all files (zip), GeoJSON, CSV, GeoPackage, KML or GPX',
      request: { params: idParam, query: handOverQuery },
      responses: files,
    }),
    (c) => {
      const { tunnels, layers, format } = c.req.valid('query');
      const request = {
        ...(tunnels === undefined ? {} : { tunnels: split(tunnels) }),
        ...(layers === undefined ? {} : { layers: split(layers) }),
        ...(format === undefined ? {} : { format }),
      };
      return answer(c, surveys, c.req.valid('param').id, request) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/export',
      summary: 'The same for a list of tunnels that is too long for an address',
      request: { params: idParam, ...body(handOverRequestSchema) },
      responses: files,
    }),
    (c) => answer(c, surveys, c.req.valid('param').id, c.req.valid('json') as HandOverRequest) as never,
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/surveys/{id}/export-preview',
      summary: 'How much a hand-over of these tunnels would hold, layer by layer',
      request: { params: idParam, ...body(handOverRequestSchema.pick({ tunnels: true })) },
      responses: { 200: json(handOverPreviewSchema, 'Counts'), ...problems },
    }),
    async (c) => {
      const { tunnels } = c.req.valid('json') as HandOverRequest;
      const preview = await surveys.previewHandOver(c.req.valid('param').id, tunnels);
      return (preview.ok ? c.json(preview.value, 200) : toProblem(c, preview.refusal)) as never;
    },
  );
}

async function answer(c: Context, surveys: Surveys, id: string, request: HandOverRequest): Promise<Response> {
  const made = await surveys.handOver(id, request);
  if (!made.ok) return toProblem(c, made.refusal);
  const { fileName, mediaType, write } = made.value;
  return c.body(toStream(write), 200, {
    'content-type': mediaType,
    'content-disposition': `attachment; filename="${fileName}"`,
    'cache-control': 'no-store',
  });
}

/** Empty text is an empty list. */
function split(text: string): string[] {
  return text.split(',').filter((part) => part !== '');
}
