import { z } from 'zod';

/*
 * What a person worked out by hand for a place. Every object is strict, so that a mistyped figure is an error and
 * not a figure that is never looked at. Units stand in the names; M, S and Kmh have tolerances (to-tolerant.ts).
 */

const nodes = z.array(z.number().int());

const portals = z.strictObject({
  in: nodes,
  out: nodes,
  both: nodes,
  /** Those of the portals above that are no mouths: the tunnel ends, or the data do. */
  deadEnd: nodes,
  edge: nodes,
});

/** The branches of a decision that leave the main carriageway, with what their signs say (null: nothing). */
const exits = z.array(z.strictObject({ way: z.number().int(), label: z.string().nullable() }));

const diverge = z.strictObject({
  node: z.number().int(),
  inside: z.boolean(),
  fromFixM: z.number().optional(),
  exits: exits.optional(),
});

const afterPortal = z.strictObject({
  node: z.number().int(),
  fromPortalM: z.number(),
  fromFixM: z.number(),
  exits,
});

const opening = z.strictObject({
  from: z.number().int(),
  to: z.number().int(),
  lengthM: z.number(),
  durationS: z.number(),
});

const route = z.strictObject({
  entry: z.number().int(),
  exit: z.number().int(),
  lengthM: z.number(),
  durationS: z.number().optional(),
  /** The diverges on the way, in the order of driving. */
  via: nodes.optional(),
});

const feature = z.strictObject({
  kind: z.string(),
  osm: z.string(),
  link: z.string(),
  chainageM: z.number(),
  offsetM: z.number(),
  where: z.enum(['on', 'near']).optional(),
  label: z.string().nullable(),
});

const complex = z.strictObject({
  id: z.string(),
  kind: z.enum(['tunnel', 'covered', 'gallery']),
  restricted: z.boolean(),
  bores: z.number().int(),
  lengthM: z.number(),
  portals,
  outageS: z.number().optional(),
  longestRouteM: z.number().optional(),
  diverges: z.array(diverge).optional(),
  merges: z.array(z.strictObject({ node: z.number().int(), inside: z.boolean() })).optional(),
  afterPortal: z.array(afterPortal).optional(),
  openings: z.array(opening).optional(),
  routes: z.array(route).optional(),
  /** Reasons, shared nodes left out: those are the links' own. */
  grouping: z.array(z.strictObject({ reason: z.string(), detail: z.string().optional() })).optional(),
  features: z.array(feature).optional(),
  /** What the figures above say nothing about: diverges and merges at these nodes, routes that begin or end there. */
  leftOut: z.strictObject({ nodes, why: z.string().min(20) }).optional(),
});

const link = z.strictObject({
  id: z.string(),
  direction: z.enum(['forward', 'both', 'reversible']),
  restricted: z.boolean().optional(),
  lengthM: z.number(),
  speedKmh: z.number().optional(),
  lanes: z.number().int().optional(),
  layer: z.number().int().optional(),
  stretches: z
    .array(
      z.strictObject({
        way: z.number().int(),
        lengthM: z.number(),
        speedKmh: z.number(),
        lanes: z.number().int(),
        centreLanes: z.number().optional(),
      }),
    )
    .optional(),
});

/** The shape of `case.json`. Lists are complete; a figure that is left out says nothing. */
export const placeCase = z.strictObject({
  why: z.string().min(20),
  /** What was worked out by hand, and how. */
  verified: z.array(z.string().min(10)).min(1),
  expect: z.strictObject({
    complexes: z.array(complex).min(1),
    links: z.array(link).optional(),
    /** Every finding of the import report: code → subjects, sorted. */
    findings: z.record(z.string(), z.array(z.string()).min(1)),
  }),
});

export type PlaceCase = z.infer<typeof placeCase>;
export type ComplexCase = PlaceCase['expect']['complexes'][number];
