import { z } from 'zod';
import type { NumberSpec } from '../placement/rules.ts';
import { COST_FIELDS, type Costs } from '../ranking/cost.ts';
import { STATUSES } from '../ranking/find-status.ts';
import { PROGRAMME_FIELDS } from '../ranking/programme.ts';
import { RANK_FIELDS } from '../ranking/rank-filter.ts';
import { WEIGHT_RANGE } from '../ranking/rank-score.ts';

/** The other drives that a range of ranks is measured with. */
export const DRIVE_VARIANTS = [
  'half the spread of the speed',
  'one and a half times the spread of the speed',
] as const;

const fileShape = { name: z.string(), matched: z.number(), notes: z.number() };

/** The files that were brought to a survey: `matched` rows found their place, `notes` tells how many rows had a fault. */
export const evidenceViewSchema = z
  .object({
    traffic: z.object({ ...fileShape, rows: z.number() }).optional(),
    existing: z.object({ ...fileShape, items: z.number() }).optional(),
  })
  .meta({ id: 'Evidence' });
export type EvidenceView = z.infer<typeof evidenceViewSchema>;

const reportedRows = {
  /** Rows that were of no use, or not as they stand: warnings first, then by line; the first ones where there are many. */
  rows: z.array(
    z.object({
      /** Of a table, counted from 1 with its header; the number of a GeoJSON feature. */
      line: z.number(),
      code: z.string(),
      severity: z.enum(['error', 'warning', 'info']),
      title: z.string(),
      detail: z.string(),
    }),
  ),
  rowCount: z.number(),
};

/** What became of each row of the files that were brought; a file that was not brought is absent. */
export const evidenceReportSchema = z
  .object({
    traffic: z.object(reportedRows).optional(),
    existing: z
      .object({
        ...reportedRows,
        /** Where beacons found their place, the farthest from its bore's line first; the first ones where there are many. */
        matches: z.array(
          z.object({
            line: z.number(),
            deviceId: z.string().optional(),
            state: z.string().optional(),
            complex: z.string(),
            chainageM: z.number(),
            distanceM: z.number(),
            side: z.enum(['left', 'right']),
          }),
        ),
        matchCount: z.number(),
      })
      .optional(),
  })
  .meta({ id: 'EvidenceReport' });
export type EvidenceReport = z.infer<typeof evidenceReportSchema>;

const id = z.string().max(200);
const factorName = z.string().trim().min(1).max(100);

const costsPatch = z
  .strictObject(
    mapFields(COST_FIELDS, (spec, name) => toNumber(spec, name === 'crewsPerNight').optional()) as {
      [K in keyof Costs]: z.ZodOptional<z.ZodNumber>;
    },
  )
  .meta({ id: 'CostsPatch' });

const limits = { min: z.number().optional(), max: z.number().optional() };
const filterSchema = z.union([
  z.strictObject({ field: z.enum(RANK_FIELDS), ...limits }),
  z.strictObject({ factor: factorName, ...limits }),
]);

/** What the ranking is asked with: whatever is left out has its default. */
/** How many tunnels have been driven of those that are to be: 0 of 0 where nobody waits for any. */
export const drivesSchema = z.object({ done: z.number(), total: z.number() }).meta({ id: 'Drives' });
export type DrivesView = z.infer<typeof drivesSchema>;

export const rankingRequestSchema = z
  .strictObject({
    costs: costsPatch.optional(),
    /** Columns of the user's own, by tunnel id. */
    factors: z
      .array(
        z.strictObject({
          name: factorName,
          weight: z.number().min(WEIGHT_RANGE.min).max(WEIGHT_RANGE.max),
          values: z.record(id, z.number()),
        }),
      )
      .max(20)
      .optional(),
    filters: z.array(filterSchema).max(50).optional(),
  })
  .meta({ id: 'RankingRequest' });
export type RankingRequest = z.infer<typeof rankingRequestSchema>;

const both = z.object({ without: z.number(), with: z.number() });

const suppositionSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('traffic of one'), complexId: z.string(), scale: z.number() }),
  z.object({ kind: z.literal('assumed traffic'), scale: z.number() }),
  z.object({ kind: z.literal('drives'), name: z.enum(DRIVE_VARIANTS) }),
]);
export type SuppositionView = z.infer<typeof suppositionSchema>;

/** A rank that is reached, and what brings the tunnel there; nothing where it stands there anyhow. */
const reachedSchema = z.object({ rank: z.number(), by: suppositionSchema.optional() });

const termSchema = z.object({
  osmNode: z.number(),
  linkId: z.string(),
  where: z.enum(['underground', 'after portal']),
  vehiclesPerDay: z.number(),
  isTrafficAssumed: z.boolean(),
  /** The share of these vehicles that come by the point. */
  reachShare: z.number(),
  satnavShare: z.number(),
  /** Over how many routes the share of failing drives is averaged. */
  routes: z.number(),
  misguidedShare: both,
  perDay: both,
});

const figures = {
  id: z.string(),
  name: z.string().optional(),
  ref: z.string().optional(),
  status: z.enum(STATUSES),
  existingCount: z.number(),
  misguidedPerDay: z.number(),
  misguidedPerDayWithDesign: z.number(),
  /** Negative where the design makes it worse. */
  avoidedPerDay: z.number(),
  cost: z.number(),
  avoidedPerCost: z.number(),
  /** `avoidedPerCost` times the multipliers of `factors`: what is ranked by. */
  score: z.number(),
  beacons: z.number(),
  nights: z.number(),
  costTerms: z
    .array(
      z.object({
        name: z.enum(['beacons', 'closure nights', 'crew nights']),
        count: z.number(),
        each: z.number(),
        cost: z.number(),
      }),
    )
    .readonly(),
  vehiclesPerDay: z.number(),
  isTrafficAssumed: z.boolean(),
  outageS: z.number(),
  factors: z
    .array(
      z.object({
        name: z.string(),
        value: z.number().optional(),
        normalised: z.number(),
        weight: z.number(),
        multiplier: z.number(),
      }),
    )
    .readonly(),
  /** The working of `misguidedPerDay`: one line for each decision point and approach. */
  terms: z.array(termSchema).readonly(),
};

const rowSchema = z
  .object({ ...figures, rank: z.number(), best: reachedSchema, worst: reachedSchema })
  .meta({ id: 'RankingRow' });
export type RankingRow = z.infer<typeof rowSchema>;

/** A tunnel that a filter leaves out, with the first filter that it does not meet; `found` is absent where it has no value. */
const leftOutSchema = z
  .object({ ...figures, unmet: z.object({ filter: filterSchema, found: z.number().optional() }) })
  .meta({ id: 'RankingLeftOut' });
export type RankingLeftOut = z.infer<typeof leftOutSchema>;

const costsSchema = z
  .object(mapFields(COST_FIELDS, () => z.number()) as { [K in keyof Costs]: z.ZodNumber })
  .meta({ id: 'Costs' });

/** Which tunnel first: `rows` by rank, `leftOut` by id. Only public tunnels take part. */
export const rankingSchema = z
  .object({
    /** The survey's revision that this holds for. */
    revision: z.number(),
    satnavShare: z.number(),
    costs: costsSchema,
    rows: z.array(rowSchema).readonly(),
    leftOut: z.array(leftOutSchema).readonly(),
  })
  .meta({ id: 'Ranking' });
export type RankingView = z.infer<typeof rankingSchema>;

/** What a programme may spend; `crews` has its default where it is left out, and is never below `crewsPerNight`. */
export const programmeRequestSchema = z
  .strictObject({
    years: toNumber(PROGRAMME_FIELDS.years, true),
    budgetPerYear: toNumber(PROGRAMME_FIELDS.budgetPerYear, false),
    nightsPerYear: toNumber(PROGRAMME_FIELDS.nightsPerYear, true),
    crews: toNumber(PROGRAMME_FIELDS.crews, true).optional(),
    costs: costsPatch.optional(),
  })
  .meta({ id: 'ProgrammeRequest' });
export type ProgrammeRequest = z.infer<typeof programmeRequestSchema>;

const planSchema = z
  .object({
    years: z
      .array(
        z.object({
          year: z.number(),
          ids: z.array(z.string()).readonly(),
          cost: z.number(),
          nights: z.number(),
          /** Misguided drivers of a day that all that is equipped by the end of this year avoids. */
          avoidedPerDay: z.number(),
        }),
      )
      .readonly(),
    cost: z.number(),
    nights: z.number(),
    avoidedDrivers: z.number(),
    leftOut: z
      .array(
        z.object({ id: z.string(), why: z.enum(['no gain', 'too dear', 'too many nights', 'others first']) }),
      )
      .readonly(),
  })
  .meta({ id: 'Plan' });
export type PlanView = z.infer<typeof planSchema>;

const nextStepSchema = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('step'),
    budgetPerYear: z.number(),
    extraPerYear: z.number(),
    plan: planSchema,
    moreAvoidedDrivers: z.number(),
    isProven: z.boolean(),
  }),
  z.object({ kind: z.enum(['all done', 'nights lacking', 'unknown']) }),
]);

/** Which tunnels in which year; tunnels that are equipped already take no part and are listed. */
export const programmeSchema = z
  .object({
    revision: z.number(),
    /** What was asked for, with the defaults filled in. */
    years: z.number(),
    budgetPerYear: z.number(),
    nightsPerYear: z.number(),
    crews: z.number(),
    costs: costsSchema,
    equipped: z.array(z.string()).readonly(),
    best: planSchema,
    byRatio: planSchema,
    /** No programme within these limits spares more drivers. */
    boundDrivers: z.number(),
    isProven: z.boolean(),
    next: nextStepSchema,
    curve: z
      .array(
        z.object({
          budgetPerYear: z.number(),
          cost: z.number(),
          tunnelCount: z.number(),
          avoidedDrivers: z.number(),
          isProven: z.boolean(),
        }),
      )
      .readonly(),
  })
  .meta({ id: 'Programme' });
export type ProgrammeView = z.infer<typeof programmeSchema>;

function mapFields<T>(
  fields: Readonly<Record<string, NumberSpec>>,
  make: (spec: NumberSpec, name: string) => T,
): Record<string, T> {
  return Object.fromEntries(Object.entries(fields).map(([name, spec]) => [name, make(spec, name)]));
}

function toNumber({ min, max, unit, meaning }: NumberSpec, isWhole: boolean): z.ZodNumber {
  return (isWhole ? z.number().int() : z.number())
    .min(min)
    .max(max)
    .describe(`${meaning} Unit: ${unit || 'none'}.`);
}
