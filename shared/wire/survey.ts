import { z } from 'zod';
import { ANCHORS, WALLS } from '../placement/beacon.ts';
import { KEPT_WALLS } from '../placement/keep-out.ts';
import {
  CHOICE_RULES,
  type ChoiceRule,
  NUMBER_RULES,
  type NumberRule,
  type Option,
  type RuleName,
} from '../placement/rules.ts';
import { MAX_PLACES } from '../placement/solution.ts';
import { noteSchema } from './comparison.ts';
import { LAYERS } from './layers.ts';
import { evidenceViewSchema } from './ranking.ts';

const lonLat = z.tuple([z.number().min(-180).max(180), z.number().min(-90).max(90)]);
const bbox = z.tuple([z.number(), z.number(), z.number(), z.number()]);

/** The place to be asked for: a bounding box `[west, south, east, north]` or one ring of positions. */
export const areaSchema = z
  .union([z.object({ bbox }), z.object({ ring: z.array(lonLat).min(4).max(2000) })])
  .meta({ id: 'Area' });
export type Area = z.infer<typeof areaSchema>;

const numberShape = Object.fromEntries(
  Object.entries(NUMBER_RULES).map(([name, spec]) => [
    name,
    (spec.isWhole === true ? z.number().int() : z.number())
      .min(spec.min)
      .max(spec.max)
      .optional()
      .describe(`${spec.meaning} Unit: ${spec.unit || 'none'}.`),
  ]),
) as { [K in NumberRule]: z.ZodOptional<z.ZodNumber> };

const choiceShape = Object.fromEntries(
  Object.entries(CHOICE_RULES).map(([name, { options, meaning }]) => [
    name,
    z
      .enum(Object.keys(options))
      .optional()
      .describe(
        `${meaning} ${Object.entries(options)
          .map(([option, means]) => `${option}: ${means}`)
          .join(' ')}`,
      ),
  ]),
) as unknown as { [C in ChoiceRule]: z.ZodOptional<z.ZodEnum<{ [O in Option<C>]: O }>> };

const ruleNames = [...Object.keys(NUMBER_RULES), ...Object.keys(CHOICE_RULES)] as [RuleName, ...RuleName[]];

const wayId = z.number().int().positive();

/** What people said about which bores are one tunnel, by OSM way ids (group-links.ts). */
export const groupingOverridesSchema = z
  .array(z.strictObject({ kind: z.enum(['join', 'split']), ways: z.tuple([wayId, wayId]) }))
  .max(10_000)
  .meta({ id: 'GroupingOverrides' });

/** Survey rules as a person changes them: any of them may be left out. */
export const rulePatchSchema = z.strictObject({ ...numberShape, ...choiceShape }).meta({ id: 'RulePatch' });
export type RulePatch = z.infer<typeof rulePatchSchema>;

export const refusalSchema = z
  .object({
    code: z.string(),
    context: z.record(z.string(), z.union([z.string(), z.number(), z.boolean()])),
  })
  .meta({ id: 'Refusal' });

/** Errors, RFC 9457. `detail` is a sentence for people. */
export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.number(),
    detail: z.string(),
    code: z.string(),
    context: z.record(z.string(), z.unknown()),
  })
  .meta({ id: 'Problem' });
export type Problem = z.infer<typeof problemSchema>;

export const countsSchema = z
  .object({
    ways: z.number(),
    tunnelWays: z.number(),
    complexes: z.number(),
    bores: z.number(),
    links: z.number(),
    portals: z.number(),
    diverges: z.number(),
    merges: z.number(),
    decisions: z.number(),
    beacons: z.number(),
    totalLengthM: z.number(),
    warnings: z.number(),
  })
  .meta({ id: 'Counts' });
export type Counts = z.infer<typeof countsSchema>;

export const progressSchema = z
  .object({
    stage: z.enum(['waiting', 'asking', 'reading', 'network', 'design', 'map', 'driving']),
    /** Bytes, elements or complexes done so far, and of how many, where that is known. */
    done: z.number(),
    total: z.number().optional(),
    /** What is being waited for, in words (for instance, when a busy server will be asked again). */
    note: z.string().optional(),
  })
  .meta({ id: 'Progress' });
export type Progress = z.infer<typeof progressSchema>;

export const surveySchema = z
  .object({
    id: z.string(),
    name: z.string(),
    status: z.enum(['working', 'ready', 'refused']),
    /** Comes from the program itself and comes back at each start. */
    demo: z.boolean(),
    createdAt: z.string(),
    /** Grows with every change to the survey or one of its schemes. */
    revision: z.number(),
    rules: z.record(z.string(), z.union([z.number(), z.string()])),
    bbox: bbox.optional(),
    counts: countsSchema.optional(),
    source: z
      .object({
        format: z.string(),
        name: z.string(),
        timestamp: z.string().optional(),
        generator: z.string().optional(),
        /** Who has to be named for these data. */
        attribution: z.string(),
        /** Where an object can be looked at: `${objectUrl}/way/1`; absent for invented data. */
        objectUrl: z.string().optional(),
        bytes: z.number().optional(),
        /** The area that was asked for: the same can be asked again. */
        area: areaSchema.optional(),
      })
      .optional(),
    /** What people said about which bores are one tunnel, the latest last. */
    overrides: z
      .array(
        z.object({ commandId: z.string(), kind: z.enum(['join', 'split']), ways: z.tuple([wayId, wayId]) }),
      )
      .optional(),
    /** A newer extract that waits to be adopted; see …/comparison. */
    candidate: z
      .object({ extractId: z.string(), name: z.string(), timestamp: z.string().optional() })
      .optional(),
    /** Counts of traffic and beacons that are there already, as they were brought to the survey. */
    evidence: evidenceViewSchema.optional(),
    /** Only in the answer to an edit of the survey: what it changed that was not asked for. */
    notes: z.array(noteSchema).optional(),
    /** The import that is reading a newer extract for this survey. */
    candidateJob: z.object({ id: z.string(), name: z.string() }).optional(),
    /** For an import that compares: the survey that it is for. Such imports are not in the list of surveys. */
    forSurvey: z.string().optional(),
    progress: progressSchema.optional(),
    refusal: refusalSchema.extend({ detail: z.string() }).optional(),
  })
  .meta({ id: 'Survey' });
export type SurveyView = z.infer<typeof surveySchema>;

export const surveyListSchema = z.object({ surveys: z.array(surveySchema) }).meta({ id: 'SurveyList' });

export const layerSchema = z.enum(LAYERS);

const address = z.object({ linkId: z.string(), chainageM: z.number().min(0) });
const commandId = z.string().min(8).max(64);

/** A stretch of a wall where nothing may be mounted. Where its link was cut its parts have numbers after the id. */
export const keepOutSchema = z
  .strictObject({
    id: z.string().min(8).max(80),
    linkId: z.string().max(200),
    fromM: z.number().min(0),
    toM: z.number().min(0),
    wall: z.enum(KEPT_WALLS),
    reason: z.string().max(200),
  })
  .meta({ id: 'KeepOut' });

/** As a person marks it: the id leaves room for numbers after it. */
const newKeepOutSchema = keepOutSchema.extend({ id: z.string().min(8).max(64) }).meta({ id: 'NewKeepOut' });

const solutionSchema = z
  .strictObject({
    key: z.string().max(64),
    places: z.array(z.strictObject({ ...address.shape, wall: z.enum(WALLS) })).max(MAX_PLACES),
    bound: z.number().int().min(0),
  })
  .meta({ id: 'Solution' });

export const commandSchema = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('setRule'),
      commandId,
      rule: z.enum(ruleNames),
      value: z.union([z.number(), z.string().max(50)]).nullable(),
    }),
    z.strictObject({
      kind: z.literal('slideBeacon'),
      commandId,
      beaconId: z.string().max(200),
      to: address,
      anchor: z.enum(ANCHORS),
      wall: z.enum(WALLS).optional(),
    }),
    z.strictObject({
      kind: z.literal('setAnchor'),
      commandId,
      beaconId: z.string().max(200),
      anchor: z.enum(ANCHORS),
    }),
    z.strictObject({
      kind: z.literal('setRadius'),
      commandId,
      beaconId: z.string().max(200),
      at: address,
      wall: z.enum(WALLS),
      radiusM: z.number().nullable(),
    }),
    z.strictObject({ kind: z.literal('addKeepOut'), commandId, keepOut: newKeepOutSchema }),
    z.strictObject({ kind: z.literal('removeKeepOut'), commandId, keepOutId: z.string().max(80) }),
    z.strictObject({ kind: z.literal('acceptSolution'), commandId, solution: solutionSchema.nullable() }),
    z.strictObject({ kind: z.literal('releaseBeacon'), commandId, beaconId: z.string().max(200) }),
    z.strictObject({ kind: z.literal('revert'), commandId, revertedId: commandId }),
  ])
  .meta({ id: 'Command' });

/**
 * An edit of the survey itself. `join` and `split` name a way of each of two bores; `adoptExtract` accepts the
 * candidate; `revert` takes back a join or a split.
 */
export const surveyCommandSchema = z
  .discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('join'), commandId, ways: z.tuple([wayId, wayId]) }),
    z.strictObject({ kind: z.literal('split'), commandId, ways: z.tuple([wayId, wayId]) }),
    z.strictObject({ kind: z.literal('adoptExtract'), commandId, extractId: z.string().max(100) }),
    z.strictObject({ kind: z.literal('revert'), commandId, revertedId: commandId }),
  ])
  .meta({ id: 'SurveyCommand' });

/** `baseRevision` is the survey's revision. One command: each changes what the next is checked against. */
export const surveyEditSchema = z
  .strictObject({ baseRevision: z.number().int().min(0), command: surveyCommandSchema })
  .meta({ id: 'SurveyEdit' });

export const commandBatchSchema = z
  .strictObject({ baseRevision: z.number().int().min(0), commands: z.array(commandSchema).min(1).max(500) })
  .meta({ id: 'CommandBatch' });

const pinnedSchema = z.object({
  id: z.string(),
  at: address,
  anchor: z.enum(ANCHORS),
  wall: z.enum(WALLS).optional(),
  radiusM: z.number().optional(),
});

/** What the server itself writes into a scheme's log where the tunnel under it became another; never sent. */
const carrySchema = z
  .object({
    kind: z.literal('carry'),
    commandId,
    rules: rulePatchSchema,
    pinned: z.array(pinnedSchema),
    keepOuts: z.array(keepOutSchema),
  })
  .meta({ id: 'Carry' });

export const schemeSchema = z
  .object({
    complexId: z.string(),
    revision: z.number(),
    rules: z.record(z.string(), z.union([z.number(), z.string()])),
    pinned: z.array(pinnedSchema),
    keepOuts: z.array(keepOutSchema),
    solution: solutionSchema.optional(),
    log: z.array(z.union([commandSchema, carrySchema])),
  })
  .meta({ id: 'Scheme' });

/** What the import dropped or assumed, grouped by reason: `import-report.json` and the screen. */
export const reportSchema = z
  .object({
    reasons: z.array(
      z.object({
        code: z.string(),
        severity: z.enum(['error', 'warning', 'info']),
        title: z.string(),
        count: z.number(),
        items: z.array(
          z.object({
            id: z.string(),
            subject: z.object({ kind: z.string(), id: z.string() }),
            /** Address of the object on openstreetmap.org, for OSM objects. */
            link: z.string().optional(),
            at: lonLat.optional(),
            detail: z.string(),
          }),
        ),
      }),
    ),
  })
  .meta({ id: 'ImportReport' });
export type ImportReport = z.infer<typeof reportSchema>;
