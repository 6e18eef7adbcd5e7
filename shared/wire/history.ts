import { z } from 'zod';

const surveyChangeSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('imported') }),
  z.object({ kind: z.literal('renamed'), name: z.string() }),
  z.object({
    kind: z.literal('rules'),
    rules: z.array(z.object({ rule: z.string(), value: z.union([z.number(), z.string()]) })),
  }),
  z.object({ kind: z.literal('evidence'), isThere: z.boolean() }),
  z.object({ kind: z.literal('candidate'), isThere: z.boolean() }),
  z.object({ kind: z.enum(['join', 'split', 'adoptExtract', 'revert']) }),
  z.object({ kind: z.literal('goBack'), toRevision: z.number() }),
]);

/** What a revision changed: the survey itself, and designs by tunnel; `entries` are lines of a scheme's log. */
export const revisionSchema = z
  .object({
    revision: z.number(),
    at: z.string(),
    /** Who made it, where there are accounts. */
    by: z.string().optional(),
    changes: z.array(surveyChangeSchema),
    edits: z.array(z.object({ complexId: z.string(), entries: z.array(z.unknown()) })),
  })
  .meta({ id: 'Revision' });
export type RevisionView = z.infer<typeof revisionSchema>;
export type SurveyChangeView = z.infer<typeof surveyChangeSchema>;

/** A page of a survey's history, the newest first; `before` asks for the next page, absent on the last. */
export const historySchema = z
  .object({ revisions: z.array(revisionSchema), before: z.number().optional() })
  .meta({ id: 'History' });
export type HistoryView = z.infer<typeof historySchema>;

export const goBackSchema = z
  .strictObject({
    /** The revision that the survey is at: refused where somebody was quicker. */
    baseRevision: z.number().int().min(0),
    /** Chosen by whoever asks, so that a retry is harmless. */
    commandId: z.string().min(8).max(64),
  })
  .meta({ id: 'GoBack' });
export type GoBackRequest = z.infer<typeof goBackSchema>;
