import type { CollectionId } from './collections.ts';

/** Every word of the pages and documents at /ogc. */
export const WORDS = {
  language: 'en',
  title: 'Boremark: road tunnels and their beacons',
  description:
    'Road tunnels from OpenStreetMap, where drivers have to decide in them, and the beacons planned for them, over all surveys of this server. For a desktop GIS that speaks OGC API – Features.',
  home: 'Start',
  collections: 'Collections',
  conformance: 'Conformance',
  conformanceText: 'What this service keeps to, by the addresses of the standard’s conformance classes.',
  api: 'Description of the API',
  apiText: 'Every address of this service, and what may be asked there.',
  items: 'Features',
  skip: 'Skip to the content',
  path: 'Where you are',
  formats: 'Other formats',
  asJson: 'JSON',
  asGeoJson: 'GeoJSON',
  asHtml: 'Page',
  openApi: 'OpenAPI 3.0',
  extent: 'Where',
  time: 'When',
  noTime: 'There is no survey yet.',
  openFeatures: 'Look at the features',
  surveys: 'Surveys',
  schema: 'What the properties mean (JSON Schema of the export)',
  previous: 'Previous page',
  next: 'Next page',
  pages: 'Pages',
  none: 'No feature is here.',
  geometry: 'Geometry',
  id: 'Id',
  address: 'Address',
  does: 'What it gives',
  parameters: 'Parameters',
  yes: 'yes',
  no: 'no',
  attribution:
    'Surveys of OpenStreetMap data: © OpenStreetMap contributors, Open Database License 1.0, https://www.openstreetmap.org/copyright',
  licenceName: 'Open Database License 1.0',
  licence: 'Open Database License 1.0, for surveys of OpenStreetMap data',
  footer: 'Surveys of OpenStreetMap data:',
  contributors: '© OpenStreetMap contributors',
  crs: 'Longitude and latitude on WGS 84 (CRS84).',
} as const;

type CollectionWords = { readonly title: string; readonly description: string };

const UPDATED =
  'updated: when the survey or one of its designs was changed last; what is told holds since then, and datetime asks for it. survey: the survey’s id.';

export const COLLECTION_WORDS: Readonly<Record<CollectionId, CollectionWords>> = {
  complexes: {
    title: 'Tunnels',
    description: `Tunnels, galleries and covered roads with all their bores and ramps: length, exits, time without satellites, beacons, ranking. ${UPDATED}`,
  },
  bores: {
    title: 'Bores',
    description: `The lines that the tunnels are made of, from portal or fork to the next, in the direction of travel where there is one. ${UPDATED}`,
  },
  portals: {
    title: 'Portals',
    description: `Where the road goes under cover, comes out, or both. ${UPDATED}`,
  },
  decisions: {
    title: 'Decision points',
    description: `Where a driver can choose, underground or after a portal, and how many are misguided there without and with the planned beacons. ${UPDATED}`,
  },
  beacons: {
    title: 'Planned beacons',
    description: `The places on the tunnel walls where beacons are planned. ${UPDATED}`,
  },
};

/** What each parameter does. */
export const PARAMETER_WORDS = {
  f: 'The format; else the Accept header decides.',
  limit: 'How many features a page has at most.',
  offset: 'How many features are before the page; links to the next and previous page have it.',
  bbox: 'West, south, east, north in degrees (CRS84); with heights as third and sixth number they are not looked at. Only features that touch this box. West greater than east goes over the antimeridian.',
  datetime:
    'A time (RFC 3339), a day in UTC, or two with / between them, one of which may be .. : only features of surveys that were changed last then.',
  survey: 'Only features of the survey with this id.',
  collectionId: 'The collection.',
  featureId: 'The id of the feature.',
} as const;

/** What each address gives. */
export const PATH_WORDS = {
  landing: 'What there is',
  conformance: 'Which conformance classes hold',
  api: 'This description',
  collections: 'The collections, where and when their features are',
  collection: 'One collection',
  items: 'Features of a collection, page by page',
  item: 'One feature',
} as const;

/** What an answer may be. */
export const ANSWER_WORDS = {
  ok: 'What was asked for',
  badRequest: 'A parameter is not known or not usable',
  notFound: 'There is no such thing',
  notAcceptable: 'No format that the Accept header takes',
  unauthorized: 'Sign in first, or send the token of a share link',
  fault: 'A fault of the program',
  bearer: 'The token of a share link (what is behind the # of its address): shows that survey alone.',
  session: 'The session of somebody who signed in on the page.',
} as const;

/** `41–50 of 859`. */
export function describePage(offset: number, returned: number, matched: number): string {
  if (returned === 0) return `${formatNumber(matched)} in all`;
  return `${formatNumber(offset + 1)}–${formatNumber(offset + returned)} of ${formatNumber(matched)}`;
}

const numbers = new Intl.NumberFormat('en', { maximumFractionDigits: 7 });

/** A number for people. */
export function formatNumber(value: number): string {
  return numbers.format(value);
}
