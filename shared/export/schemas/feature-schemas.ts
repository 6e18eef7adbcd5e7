import { z } from 'zod';
import { ROAD_CLASSES } from '../../osm/read-highway.ts';
import { STATUSES } from '../../ranking/find-status.ts';
import type { ExportedLayer } from '../../wire/layers.ts';
import { rulePatchSchema } from '../../wire/survey.ts';

/**
 * The exported layers, property by property: the schemas that the server gives at /schemas/ and that the tests hold
 * every export to. Lengths in metres, speeds in km/h, bearings in degrees from north.
 */
const id = z.string().min(1);
const count = z.number().int().min(0);
const metres = z.number().min(0);
const kmh = z.number().positive();
const osmId = z.number().int();
const kind = z.enum(['tunnel', 'covered', 'gallery']);
const ASSUMED = ['lanes', 'maxspeed', 'variable maxspeed', 'width', 'placement'] as const;
const assumed = z.array(z.enum(ASSUMED));

const position = z.tuple([z.number().min(-180).max(180), z.number().min(-90).max(90)]);
const line = z.array(position).min(2);
const ring = z.array(position).min(4);
const point = z.strictObject({ type: z.literal('Point'), coordinates: position });

const share = z.number().min(0).max(1);

const branch = z.strictObject({
  label: z.string().optional(),
  exit: z.boolean(),
  reason: z.enum(['class', 'destination', 'junction-ref', 'lanes', 'name', 'angle']),
  bearingDeg: z.number().min(0).max(360),
  underground: z.boolean(),
});

const properties = {
  complexes: z.strictObject({
    name: z.string().optional(),
    ref: z.string().optional(),
    kind,
    restricted: z.boolean(),
    boreCount: count,
    lengthM: metres,
    longestRouteM: metres,
    portalCount: count,
    divergeCount: count,
    mergeCount: count,
    decisionCount: count,
    exitCount: count,
    maxspeedKmh: kmh,
    roadClass: z.enum(ROAD_CLASSES),
    outageS: z.number().min(0),
    beaconCount: count,
    existingCount: count,
    status: z.enum(STATUSES),
    vehiclesPerDay: z.number().min(0).optional(),
    misguidedPerDay: z.number().min(0).optional(),
    misguidedPerDayWithDesign: z.number().min(0).optional(),
    cost: z.number().min(0).optional(),
    rank: count.min(1).optional(),
    assumed: z.array(z.enum([...ASSUMED, 'traffic'])),
    grouping: z.array(z.strictObject({ reason: z.string(), detail: z.string() })),
    osmWays: z.array(osmId).min(1),
  }),
  bores: z.strictObject({
    complex: id,
    link: id,
    kind,
    restricted: z.boolean(),
    fromNode: osmId,
    toNode: osmId,
    lengthM: metres,
    oneway: z.boolean(),
    reversible: z.literal(true).optional(),
    lanes: z.number().int().positive(),
    maxspeedKmh: kmh,
    roadClass: z.enum(ROAD_CLASSES),
    layer: z.number().int(),
    assumed,
    osmWays: z.array(osmId).min(1),
  }),
  portals: z.strictObject({
    complex: id,
    osmNode: osmId,
    kind,
    restricted: z.boolean(),
    direction: z.enum(['in', 'out', 'both']),
    edgeOfExtract: z.boolean(),
    deadEnd: z.literal(true).optional(),
  }),
  decisions: z.strictObject({
    complex: id,
    osmNode: osmId,
    kind,
    restricted: z.boolean(),
    where: z.enum(['underground', 'after portal']),
    branches: z.array(branch).min(2),
    distanceFromFixM: metres,
    distanceFromPortalM: metres.optional(),
    maxspeedKmh: kmh,
    sightDistanceM: metres,
    misguidedShare: share.optional(),
    misguidedShareWithDesign: share.optional(),
    failingShare: share.optional(),
    failingShareWithDesign: share.optional(),
  }),
  features: z.strictObject({
    complex: id,
    feature: z.enum([
      'emergency exit',
      'emergency phone',
      'fire extinguisher',
      'fire hydrant',
      'lay-by',
      'cross passage',
      'junction',
    ]),
    osmType: z.enum(['node', 'way']),
    osmId,
    link: id,
    chainageM: metres,
    offsetM: z.number(),
    where: z.enum(['on', 'near']),
    label: z.string().optional(),
  }),
  beacons: z.strictObject({
    complex: id,
    beacon: id,
    link: id,
    chainageM: metres,
    offsetM: z.number(),
    side: z.enum(['left', 'right']),
    heightM: z.number().positive(),
    role: z.enum(['portal', 'spacing', 'decision', 'branch', 'manual']),
    locked: z.boolean(),
    coverageM: metres,
    state: z.literal('planned'),
  }),
  coverage: z.strictObject({ complex: id, beacon: id, rangeM: metres }),
};

const geometries = {
  complexes: z.strictObject({ type: z.literal('MultiLineString'), coordinates: z.array(line).min(1) }),
  bores: z.strictObject({ type: z.literal('LineString'), coordinates: line }),
  portals: point,
  decisions: point,
  features: point,
  beacons: point,
  coverage: z.strictObject({ type: z.literal('MultiPolygon'), coordinates: z.array(z.array(ring)).min(1) }),
};

/** The schema of a whole collection of one layer. */
export function collectionSchema(layer: ExportedLayer) {
  const feature = z.strictObject({
    type: z.literal('Feature'),
    id,
    geometry: geometries[layer],
    properties: properties[layer],
  });
  return z.strictObject({
    type: z.literal('FeatureCollection'),
    attribution: z.string(),
    generator: z.string(),
    generated: z.iso.datetime().optional(),
    rules: rulePatchSchema.required(),
    rulesVersion: z.number().int().positive(),
    features: z.array(feature),
  });
}

/** The same as JSON Schema 2020-12. */
export function toJsonSchema(layer: ExportedLayer): object {
  return { $id: `${layer}.json`, title: `Boremark ${layer}`, ...z.toJSONSchema(collectionSchema(layer)) };
}
