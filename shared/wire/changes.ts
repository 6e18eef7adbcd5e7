import { z } from 'zod';

/** One event of a survey's changes: that it is at a revision now, and where only a design was changed, which one. */
export const surveyChangeSchema = z
  .object({
    revision: z.number(),
    /** Only the design of this tunnel, which is now at that revision of its own. */
    scheme: z.object({ complexId: z.string(), revision: z.number() }).optional(),
  })
  .meta({ id: 'SurveyChange' });
export type SurveyChange = z.infer<typeof surveyChangeSchema>;
