import { z } from 'zod';

const lonLat = z.tuple([z.number(), z.number()]);
const line = z.array(lonLat).min(2);
const address = z.object({ linkId: z.string(), chainageM: z.number() });

/** What of a tunnel can be another thing on a newer map. `shape`: its links, their lines and directions. */
export const FACETS = [
  'kind',
  'access',
  'shape',
  'name',
  'portals',
  'decisions',
  'limits',
  'widths',
  'features',
] as const;

/** What became of one tunnel. `joined`: it took in others; `split`: parts of it stand on their own now. */
const complexChangeSchema = z.object({
  id: z.string(),
  name: z.string().optional(),
  change: z.enum(['appeared', 'vanished', 'joined', 'split', 'changed']),
  /** The tunnels that it took in (`joined`), or that came out of it (`split`). */
  others: z.array(z.string()),
  /** In what the two states differ; empty where there is only one. */
  facets: z.array(z.enum(FACETS)),
  lengthBeforeM: z.number().optional(),
  lengthAfterM: z.number().optional(),
  at: lonLat,
});

/**
 * What became of one link. `split`: it runs over several links now; `joined`: it took in other links; `moved`: its
 * line or its length is another; `vanished`: its id is gone, with it or into the `others`.
 */
const linkChangeSchema = z.object({
  id: z.string(),
  /** The tunnel it is in: after the change, or before it where it vanished. */
  complexId: z.string(),
  change: z.enum(['appeared', 'vanished', 'split', 'joined', 'moved']),
  others: z.array(z.string()),
  osmWays: z.array(z.number()),
  lengthBeforeM: z.number().optional(),
  lengthAfterM: z.number().optional(),
  /** How far the line lies from where it lay, at most, metres. */
  greatestShiftM: z.number().optional(),
  lineBefore: line.optional(),
  lineAfter: line.optional(),
});

/** What becomes of one beacon. `shiftM` is the way from its old place on the wall to its new one. */
const beaconChangeSchema = z.object({
  complexId: z.string(),
  id: z.string(),
  change: z.enum(['moved', 'added', 'removed']),
  /** A person put it there. */
  locked: z.boolean(),
  /**
   * How its new place was found: it kept its chainage or its place; it could not keep its chainage, since the link
   * is too short now, and kept its place (`place-instead`); it was laid anew (`layout`); its bore is gone (`none`).
   * Between two revisions: a person put it there (`hand`), or took it away or changed what it was laid by (`removed`).
   */
  kept: z.enum(['chainage', 'place', 'place-instead', 'layout', 'none', 'hand', 'removed']),
  from: address.optional(),
  to: address.optional(),
  fromAt: lonLat.optional(),
  toAt: lonLat.optional(),
  shiftM: z.number().optional(),
});

/** What people have to know: before they accept an extract, and after a join or a split. */
export const noteSchema = z.object({
  code: z.enum(['rules-differ', 'keep-outs-changed', 'override-unmatched']),
  complexId: z.string().optional(),
  detail: z.string(),
});

/** A newer extract against the survey as it stands; nothing has moved yet. Lists are sorted by id, beacons by tunnel first; metres. */
export const comparisonSchema = z
  .object({
    /** Adopt with these two; another revision means that somebody changed the survey meanwhile. */
    extractId: z.string(),
    surveyRevision: z.number(),
    before: z.object({ name: z.string(), timestamp: z.string().optional() }),
    after: z.object({ name: z.string(), timestamp: z.string().optional() }),
    complexes: z.array(complexChangeSchema),
    links: z.array(linkChangeSchema),
    beacons: z.array(beaconChangeSchema),
    unchanged: z.object({ complexes: z.number(), links: z.number(), beacons: z.number() }),
    greatestBeaconShiftM: z.number(),
    notes: z.array(noteSchema),
  })
  .meta({ id: 'Comparison' });
export type Comparison = z.infer<typeof comparisonSchema>;

/** A survey at one of its revisions against the survey as it stands now. */
export const revisionComparisonSchema = comparisonSchema
  .omit({ extractId: true })
  .meta({ id: 'RevisionComparison' });
export type RevisionComparison = z.infer<typeof revisionComparisonSchema>;
