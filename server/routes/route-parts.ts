import { z } from 'zod';
import { refusal } from '../../shared/outcome/refusal.ts';
import { problemSchema } from '../../shared/wire/survey.ts';

export const idParam = z.object({ id: z.string().max(64) });

/** A JSON answer of a route. */
export const json = (schema: z.ZodType, description: string) => ({
  description,
  content: { 'application/json': { schema } },
});
/** A JSON request of a route. */
export const body = (schema: z.ZodType) => ({
  body: { required: true, content: { 'application/json': { schema } } },
});
/** What every route may answer instead. */
export const problems = {
  default: { description: 'A refusal', content: { 'application/problem+json': { schema: problemSchema } } },
};

/** A request that is not what the route takes. */
export function invalid(error: z.ZodError) {
  const reason = error.issues
    .map((issue) => `${issue.path.join('.') || 'body'}: ${issue.message}`)
    .join('; ');
  return refusal('request-invalid', { reason });
}
