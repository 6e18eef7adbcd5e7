const text = { type: 'string' } as const;
const links = { type: 'array', items: { $ref: '#/components/schemas/link' } } as const;
const object = (required: readonly string[], properties: Readonly<Record<string, object>>) => ({
  type: 'object',
  required,
  properties,
});
const feature = {
  type: { type: 'string', enum: ['Feature'] },
  id: text,
  geometry: { $ref: '#/components/schemas/geometry' },
  properties: { $ref: '#/components/schemas/properties' },
};

/** What the answers look like, as OpenAPI 3.0. */
export const SCHEMAS = {
  link: object(['href', 'rel'], { href: text, rel: text, type: text, title: text }),
  landing: object(['links'], { title: text, description: text, attribution: text, links }),
  conformance: object(['conformsTo'], { conformsTo: { type: 'array', items: text }, links }),
  collections: object(['links', 'collections'], {
    links,
    attribution: text,
    collections: { type: 'array', items: { $ref: '#/components/schemas/collection' } },
  }),
  collection: object(['id', 'links'], {
    id: text,
    title: text,
    description: text,
    attribution: text,
    itemType: text,
    crs: { type: 'array', items: text },
    extent: { type: 'object' },
    links,
  }),
  geometry: object(['type', 'coordinates'], {
    type: { type: 'string', enum: ['Point', 'LineString', 'MultiLineString'] },
    coordinates: { type: 'array', items: {} },
  }),
  properties: {
    ...object(['survey', 'updated'], { survey: text, updated: { type: 'string', format: 'date-time' } }),
    additionalProperties: true,
  },
  feature: object(['type', 'id', 'geometry', 'properties'], feature),
  item: object(['type', 'id', 'geometry', 'properties', 'links'], { ...feature, attribution: text, links }),
  items: object(['type', 'features', 'links', 'timeStamp', 'numberMatched', 'numberReturned'], {
    type: { type: 'string', enum: ['FeatureCollection'] },
    attribution: text,
    timeStamp: { type: 'string', format: 'date-time' },
    numberMatched: { type: 'integer', minimum: 0 },
    numberReturned: { type: 'integer', minimum: 0 },
    links,
    features: { type: 'array', items: { $ref: '#/components/schemas/feature' } },
  }),
  exception: object(['code'], { code: text, description: text }),
};
