import type { Context } from 'hono';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import { REFUSALS, type Refusal } from '../shared/outcome/refusal.ts';
import { describeRefusal } from '../shared/outcome/words.ts';
import type { Problem } from '../shared/wire/survey.ts';
import { isOgcPath, toException } from './ogc/to-exception.ts';

/**
 * The one place where a refusal becomes an HTTP answer: `application/problem+json` (RFC 9457), and below /ogc the
 * standard's exception.
 */
export function toProblem(
  c: Context,
  refusal: Refusal,
  more: Readonly<Record<string, unknown>> = {},
): Response {
  const status = REFUSALS[refusal.code];
  if (isOgcPath(c.req.path)) {
    return toException(c, status, { code: refusal.code, description: describeRefusal(refusal) });
  }
  const problem: Problem = {
    type: 'about:blank',
    title: refusal.code,
    status,
    detail: describeRefusal(refusal),
    code: refusal.code,
    context: { ...refusal.context, ...more },
  };
  return c.body(JSON.stringify(problem), status as ContentfulStatusCode, {
    'content-type': 'application/problem+json',
  });
}
