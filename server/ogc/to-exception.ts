import type { Context } from 'hono';
import type { ContentfulStatusCode } from 'hono/utils/http-status';

/** The exception body of OGC API – Features (OGC 17-069r4, exception.yaml). */
export type Exception = { readonly code: string; readonly description: string };

/** Whether a path is answered by the rules of OGC API – Features. */
export function isOgcPath(path: string): boolean {
  return /^\/ogc(\/|$)/.test(path);
}

/** Answers in the standard's way that something was wrong. */
export function toException(c: Context, status: number, exception: Exception): Response {
  return c.body(JSON.stringify(exception), status as ContentfulStatusCode, {
    'content-type': 'application/json',
  });
}
