import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { z } from 'zod';
import { refusal } from '../../shared/outcome/refusal.ts';
import { ALL_LAYERS, NEAREST_TILE_ZOOM, TILE_LAYERS, type TileLayer } from '../../shared/tiles/tile-layer.ts';
import { toProblem } from '../problem.ts';
import type { Surveys } from '../surveys/surveys.ts';
import { isTile } from '../tiles/draw-tile.ts';
import { answerGzip } from './answer-gzip.ts';
import { problems } from './route-parts.ts';

const LAYERS = Object.keys(TILE_LAYERS) as TileLayer[];
const number = z.string().regex(/^\d{1,6}$/, 'a whole number is needed');
const params = z.object({ layer: z.enum([ALL_LAYERS, ...LAYERS]), z: number, x: number, y: number });
const query = z.object({
  survey: z.string().min(1).max(64),
  revision: z
    .string()
    .max(20)
    .optional()
    .describe('Another one asks for newer tiles; the newest are answered'),
});

/** Surveys as vector tiles. */
export function addTileRoutes(app: OpenAPIHono, surveys: Surveys): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/tiles/{layer}/{z}/{x}/{y}',
      summary: `One layer of a survey (or, as ${ALL_LAYERS}, all of them) as Mapbox Vector Tile 2.1, z to ${NEAREST_TILE_ZOOM}`,
      request: { params, query },
      responses: {
        200: { description: 'application/vnd.mapbox-vector-tile' },
        204: { description: 'Nothing lies there' },
        ...problems,
      },
    }),
    async (c) => {
      const { layer, z, x, y } = c.req.valid('param');
      const { survey: id } = c.req.valid('query');
      const visitor = c.get('visitor');
      if (visitor.kind === 'share' && visitor.share.surveyId !== id) {
        return toProblem(c, refusal('survey-unknown', { id })) as never;
      }
      const address = { z: Number(z), x: Number(x), y: Number(y) };
      if (!isTile(address)) {
        const reason = `there is no tile ${z}/${x}/${y}: z is 0 to ${NEAREST_TILE_ZOOM}, x and y are below 2 to the power of z`;
        return toProblem(c, refusal('request-invalid', { reason })) as never;
      }
      const tile = await surveys.tileGzip(id, layer === ALL_LAYERS ? undefined : layer, address);
      if (!tile.ok) return toProblem(c, tile.refusal) as never;
      if (tile.value === undefined) {
        c.header('cache-control', 'no-cache');
        return c.body(null, 204) as never;
      }
      const { bytes, version } = tile.value;
      return answerGzip(c, bytes, version, 'application/vnd.mapbox-vector-tile') as never;
    },
  );
}
