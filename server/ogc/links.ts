import type { Format } from './choose-format.ts';
import type { CollectionId } from './collections.ts';
import { WORDS } from './ogc-words.ts';

/** A link as the standard has it (RFC 8288). */
export type Link = {
  readonly href: string;
  readonly rel: string;
  readonly type: string;
  readonly title: string;
};

export const JSON_TYPE = 'application/json';
export const GEOJSON_TYPE = 'application/geo+json';
export const OPENAPI_TYPE = 'application/vnd.oai.openapi+json;version=3.0';
export const HTML_TYPE = 'text/html';

export const LICENCE_URL = 'https://opendatacommons.org/licenses/odbl/1-0/';

/** The addresses of the service; `base` is that of /ogc, without a slash at its end. */
export function makePaths(base: string) {
  const collection = (id: CollectionId) => `${base}/collections/${id}`;
  return {
    base,
    conformance: `${base}/conformance`,
    api: `${base}/api`,
    collections: `${base}/collections`,
    collection,
    items: (id: CollectionId) => `${collection(id)}/items`,
    item: (id: CollectionId, featureId: string) => `${collection(id)}/items/${encodeURIComponent(featureId)}`,
    style: `${base}/style.css`,
    icon: new URL('/icon.svg', base).href,
    schema: (id: CollectionId) => new URL(`/schemas/${id}.json`, base).href,
  };
}
export type Paths = ReturnType<typeof makePaths>;

/** An address with parameters; those without a value are left out. */
export function withParameters(
  href: string,
  parameters: Readonly<Record<string, string | number | undefined>>,
): string {
  const search = new URLSearchParams();
  for (const [name, value] of Object.entries(parameters)) {
    if (value !== undefined) search.set(name, String(value));
  }
  // Commas, colons and slashes may stand in a query as they are (RFC 3986, 3.4), and bbox is read by people.
  const text = search.toString().replace(/%2C/g, ',').replace(/%3A/g, ':').replace(/%2F/g, '/');
  return text === '' ? href : `${href}?${text}`;
}

/** The document itself and the same in the other format; `as` gives its address in a format. */
export function selfLinks(as: (format: Format) => string, shown: Format, jsonType: string): readonly Link[] {
  const toLink = (format: Format): Link => ({
    href: as(format),
    rel: format === shown ? 'self' : 'alternate',
    type: format === 'json' ? jsonType : HTML_TYPE,
    title: format === 'html' ? WORDS.asHtml : jsonType === GEOJSON_TYPE ? WORDS.asGeoJson : WORDS.asJson,
  });
  return shown === 'json' ? [toLink('json'), toLink('html')] : [toLink('html'), toLink('json')];
}

/** Under which terms the features may be used. */
export function licenceLink(): Link {
  return { href: LICENCE_URL, rel: 'license', type: HTML_TYPE, title: WORDS.licence };
}
