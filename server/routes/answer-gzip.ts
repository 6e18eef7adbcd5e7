import { gunzipSync } from 'node:zlib';
import type { Context } from 'hono';

/** Answers what is kept as gzip: not again where the client has it already, unpacked where that takes no gzip. */
export function answerGzip(c: Context, bytes: Uint8Array, version: string, contentType: string): Response {
  const tag = `"${version}"`;
  c.header('etag', tag);
  c.header('cache-control', 'no-cache');
  c.header('vary', 'accept-encoding');
  if (c.req.header('if-none-match') === tag) return c.body(null, 304);
  c.header('content-type', contentType);
  if (!/\bgzip\b/.test(c.req.header('accept-encoding') ?? '')) return c.body(asBuffer(gunzipSync(bytes)));
  c.header('content-encoding', 'gzip');
  return c.body(asBuffer(bytes));
}

/** A copy as the framework takes it. */
export function asBuffer(bytes: Uint8Array): ArrayBuffer {
  return bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
}
