import { growBox } from '../../shared/geodesy/grow-box.ts';
import { type BBox, round7 } from '../../shared/geodesy/lon-lat.ts';
import type { Format } from './choose-format.ts';
import { COLLECTION_IDS, COLLECTIONS, type CollectionId } from './collections.ts';
import {
  GEOJSON_TYPE,
  HTML_TYPE,
  JSON_TYPE,
  type Link,
  licenceLink,
  OPENAPI_TYPE,
  type Paths,
  selfLinks,
  withParameters,
} from './links.ts';
import { COLLECTION_WORDS, WORDS } from './ogc-words.ts';
import type { ShownSurvey } from './shown-surveys.ts';

export const CRS84 = 'http://www.opengis.net/def/crs/OGC/1.3/CRS84';
const GREGORIAN = 'http://www.opengis.net/def/uom/ISO-8601/0/Gregorian';

const CONFORMANCE = ['core', 'oas30', 'html', 'geojson'].map(
  (name) => `http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/${name}`,
);

/** Who has to be named, for surveys of OpenStreetMap data and for others. */
export function attributionOf(surveys: readonly ShownSurvey[]): string {
  const others = surveys
    .map(({ attribution }) => attribution)
    .filter((text) => !/OpenStreetMap contrib/.test(text));
  return [WORDS.attribution, ...new Set(others)].filter((text) => text !== '').join('; ');
}

/** The landing page: what there is. */
export function toLanding(paths: Paths, surveys: readonly ShownSurvey[], format: Format) {
  const as = (href: string, rel: string, type: string, title: string): Link => ({ href, rel, type, title });
  return {
    title: WORDS.title,
    description: WORDS.description,
    attribution: attributionOf(surveys),
    links: [
      ...selfLinks((f) => withParameters(paths.base, { f }), format, JSON_TYPE),
      as(withParameters(paths.api, { f: 'json' }), 'service-desc', OPENAPI_TYPE, WORDS.openApi),
      as(withParameters(paths.api, { f: 'html' }), 'service-doc', HTML_TYPE, WORDS.api),
      as(paths.conformance, 'conformance', JSON_TYPE, WORDS.conformance),
      as(paths.collections, 'data', JSON_TYPE, WORDS.collections),
      licenceLink(),
    ],
  };
}

/** The conformance classes that hold. */
export function toConformance(paths: Paths, format: Format) {
  return {
    conformsTo: CONFORMANCE,
    links: selfLinks((f) => withParameters(paths.conformance, { f }), format, JSON_TYPE),
  };
}

/** All collections. */
export function toCollections(paths: Paths, surveys: readonly ShownSurvey[], format: Format) {
  return {
    attribution: attributionOf(surveys),
    links: [...selfLinks((f) => withParameters(paths.collections, { f }), format, JSON_TYPE), licenceLink()],
    collections: COLLECTION_IDS.map((id) => toCollection(id, paths, surveys, format)),
  };
}

export type CollectionDocument = ReturnType<typeof toCollection>;

/** One collection: what is in it, where and when. */
export function toCollection(
  id: CollectionId,
  paths: Paths,
  surveys: readonly ShownSurvey[],
  format: Format,
) {
  const items = (f: Format, type: string, title: string): Link => {
    return { href: withParameters(paths.items(id), { f }), rel: 'items', type, title };
  };
  return {
    id,
    ...COLLECTION_WORDS[id],
    attribution: attributionOf(surveys),
    extent: {
      // Without a survey nothing is anywhere, but a box is asked for.
      spatial: { bbox: [toExtent(id, surveys)], crs: CRS84 },
      temporal: { interval: [toTimes(surveys)], trs: GREGORIAN },
    },
    itemType: 'feature',
    crs: [CRS84],
    links: [
      ...selfLinks((f) => withParameters(paths.collection(id), { f }), format, JSON_TYPE),
      items('json', GEOJSON_TYPE, WORDS.asGeoJson),
      items('html', HTML_TYPE, WORDS.openFeatures),
      { href: paths.schema(id), rel: 'related', type: 'application/schema+json', title: WORDS.schema },
      licenceLink(),
    ],
  };
}

/** A box around all features, not much larger than it has to be: to know it exactly, all would have to be laid out. */
function toExtent(id: CollectionId, surveys: readonly ShownSurvey[]): BBox {
  const boxes = surveys.flatMap(({ bbox }) =>
    bbox === undefined ? [] : [growBox(bbox, COLLECTIONS[id].reachM)],
  );
  if (boxes.length === 0) return [-180, -90, 180, 90];
  const most = (side: 0 | 1 | 2 | 3, choose: (...values: number[]) => number) =>
    round7(choose(...boxes.map((box) => box[side])));
  return [most(0, Math.min), most(1, Math.min), most(2, Math.max), most(3, Math.max)];
}

function toTimes(surveys: readonly ShownSurvey[]): readonly [string | null, string | null] {
  const times = surveys.map(({ updated }) => updated).sort();
  return [times[0] ?? null, times.at(-1) ?? null];
}
