// The reference of bench:server: one route of the same framework that does nothing, in a process of its own.
import { serve } from '@hono/node-server';
import { Hono } from 'hono';

const app = new Hono()
  .get('/', (c) => c.json({ status: 'up' }))
  .post('/', async (c) => c.json(await c.req.json()));
serve({ fetch: app.fetch, hostname: '127.0.0.1', port: 0 }, ({ port }) => {
  process.stdout.write(`http://127.0.0.1:${port}\n`);
});
