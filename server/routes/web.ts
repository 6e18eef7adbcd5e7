import { serveStatic } from '@hono/node-server/serve-static';
import type { OpenAPIHono } from '@hono/zod-openapi';

/** Serves the built web app; files with a hash in their name never change. */
export function addWebRoutes(app: OpenAPIHono, webRoot: string): void {
  app.use('/assets/*', async (c, next) => {
    await next();
    if (c.res.ok) c.header('cache-control', 'public, max-age=31536000, immutable');
  });
  app.get('*', async (c, next) => {
    const answer = await serveStatic({ root: webRoot, precompressed: true })(c, next);
    if (!c.req.path.startsWith('/assets/')) c.header('cache-control', 'no-cache');
    return answer;
  });
}
