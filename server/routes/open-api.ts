import type { OpenAPIHono } from '@hono/zod-openapi';
import { toJsonSchema } from '../../shared/export/schemas/feature-schemas.ts';
import { EXPORTED_LAYERS } from '../../shared/wire/layers.ts';

/** The API's description at /api/openapi.json, a readable page of it at /api/docs, the exports' schemas at /schemas/. */
export function addOpenApi(app: OpenAPIHono, version: string): void {
  const describe = () =>
    app.getOpenAPI31Document({
      openapi: '3.1.0',
      info: {
        title: 'Boremark',
        version,
        description: 'Road tunnels from OpenStreetMap and the beacons planned for them. Errors: RFC 9457.',
      },
    });
  app.get('/api/openapi.json', (c) => c.json(describe()));
  for (const layer of EXPORTED_LAYERS) {
    app.get(`/schemas/${layer}.json`, (c) =>
      c.body(JSON.stringify(toJsonSchema(layer)), 200, { 'content-type': 'application/schema+json' }),
    );
  }
  app.get('/api/docs', (c) => c.html(toPage(describe())));
}

type Document = ReturnType<OpenAPIHono['getOpenAPI31Document']>;

function toPage(document: Document): string {
  const rows = Object.entries(document.paths ?? {}).flatMap(([path, methods]) =>
    Object.entries(methods as Record<string, { summary?: string; responses?: object }>).map(
      ([method, { summary, responses }]) =>
        `<tr><td><code>${method.toUpperCase()}</code></td><td><code>${escapeHtml(path)}</code></td><td>${escapeHtml(summary ?? '')}</td><td>${Object.keys(responses ?? {}).join(', ')}</td></tr>`,
    ),
  );
  return `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Boremark API</title>
<h1>Boremark API ${escapeHtml(document.info.version)}</h1><p>${escapeHtml(document.info.description ?? '')} The whole description: <a href="/api/openapi.json">openapi.json</a>.</p>
<table><thead><tr><th>Method</th><th>Path</th><th>What it does</th><th>Answers</th></tr></thead><tbody>${rows.join('')}</tbody></table></html>`;
}

function escapeHtml(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
}
