import { check } from '@placemarkio/check-geojson';
import { beforeAll, describe, expect, it } from 'vitest';
import oracle from '../../../data/oracles/ogc-features.json';
import {
  BASE,
  COLLECTIONS,
  checkShape,
  type Feature,
  findLink,
  type Items,
  type Link,
  openService,
  type Service,
  SURVEYS,
  walkPages,
} from './open-service.ts';

let service: Service;
beforeAll(async () => {
  service = await openService();
}, 60_000);

/** The features of a layer of a survey, by the API that the map uses. */
async function readLayer(survey: string, layer: string): Promise<readonly Feature[]> {
  const answer = await service.app.request(`/api/surveys/${survey}/layers/${layer}`);
  return ((await answer.json()) as { features: Feature[] }).features;
}

const KNOWN_SHAPES = [
  [/^\/ogc$/, 'landing'],
  [/^\/ogc\/conformance$/, 'conformance'],
  [/^\/ogc\/collections$/, 'collections'],
  [/^\/ogc\/collections\/[a-z]+$/, 'collection'],
  [/^\/ogc\/collections\/[a-z]+\/items$/, 'items'],
  [/^\/ogc\/collections\/[a-z]+\/items\/.+$/, 'feature'],
] as const;

/** All links anywhere in a document. */
function listLinks(document: unknown): readonly Link[] {
  if (document === null || typeof document !== 'object') return [];
  const { links } = document as { links?: unknown };
  return [...(Array.isArray(links) ? links : []), ...Object.values(document).flatMap(listLinks)];
}

describe('the service', () => {
  it('is walked from its landing page: every link leads to what it says, as the standard has it', async () => {
    const { ask } = service;
    const waiting = [{ href: BASE, rel: 'self', type: 'application/json', title: '' } as Link];
    const seen = new Set<string>();
    const shapes = new Set<string>();
    for (let link = waiting.shift(); link !== undefined; link = waiting.shift()) {
      // The icon is of the web app, which is not built here.
      if (
        !link.href.startsWith('http://localhost/') ||
        link.href.endsWith('/icon.svg') ||
        seen.has(link.href)
      )
        continue;
      seen.add(link.href);
      // The pages of the largest collection are walked elsewhere.
      if (link.rel === 'next' && Number(new URL(link.href).searchParams.get('offset')) > 40) continue;
      const answer = await ask(link.href);
      expect([link.href, answer.status]).toEqual([link.href, 200]);
      expect(answer.headers.get('content-type')?.toLowerCase()).toContain(link.type.split(';')[0]);
      if (link.type === 'text/html') {
        const page = await answer.text();
        for (const [, href = ''] of page.matchAll(/href="([^"#]+)"/g)) {
          const type = /f=html/.test(href) ? 'text/html' : '';
          waiting.push({ href: href.replaceAll('&amp;', '&'), rel: 'page', type, title: '' });
        }
        continue;
      }
      if (!/json/.test(link.type)) continue;
      const document = await answer.json();
      const { pathname } = new URL(link.href);
      const shape = KNOWN_SHAPES.find(([path]) => path.test(pathname))?.[1];
      if (shape !== undefined) {
        checkShape(shape, document);
        shapes.add(shape);
      }
      if (pathname.startsWith('/ogc')) waiting.push(...listLinks(document));
      if (shape === 'items') {
        const [first] = (document as Items).features;
        const href = `${BASE}${pathname.slice(4)}/${encodeURIComponent(first?.id ?? '')}`;
        waiting.push({ href, rel: 'item', type: 'application/geo+json', title: '' });
      }
    }
    expect([...shapes].sort()).toEqual(KNOWN_SHAPES.map(([, shape]) => shape).sort());
    expect(seen.size).toBeGreaterThan(100);
  }, 60_000);

  it('says the classes that hold, and links as the standard asks', async () => {
    const { get } = service;
    const { core, oas30, html, geojson } = oracle.classes;
    const { conformsTo } = await get<{ conformsTo: string[] }>('/conformance');
    expect(conformsTo).toEqual([core, oas30, html, geojson]);
    const id = (await get<Items>('/collections/bores/items?limit=1')).features[0]?.id;
    for (const [href, relations] of [
      ['', oracle.relations.landing],
      ['/collections', oracle.relations.collections],
      ['/collections/bores', oracle.relations.collection],
      ['/collections/bores/items', oracle.relations.items],
      [`/collections/bores/items/${id}`, oracle.relations.item],
    ] as const) {
      const { links } = await get<{ links: Link[] }>(href);
      expect(links.map(({ rel }) => rel)).toEqual(expect.arrayContaining(relations));
      expect(findLink(links, 'self')?.href).toContain(`${BASE}${href}`);
      // Whoever reads it is told whose data they are, and under which terms.
      expect(findLink(links, 'license')?.href).toBe('https://opendatacommons.org/licenses/odbl/1-0/');
      expect(await get(href)).toMatchObject({
        attribution: expect.stringContaining('© OpenStreetMap contributors'),
      });
    }
  });

  it('describes itself as OpenAPI 3.0: every address and parameter that there is', async () => {
    const { ask } = service;
    const answer = await ask('/api');
    expect(answer.headers.get('content-type')).toBe('application/vnd.oai.openapi+json;version=3.0');
    const document = JSON.stringify(await answer.json());
    const { openapi, servers, components } = JSON.parse(document);
    expect([openapi, servers[0].url]).toEqual(['3.0.3', BASE]);
    // Every reference has something behind it.
    const references = [...document.matchAll(/"#\/components\/(\w+)\/(\w+)"/g)];
    expect(references.length).toBeGreaterThan(30);
    for (const [, kind = '', name = ''] of references) expect(components[kind]).toHaveProperty(name);
    for (const [name, { in: where }] of Object.entries<{ in: string }>(components.parameters)) {
      if (where !== 'query') continue;
      const value = {
        f: 'json',
        limit: '5',
        offset: '5',
        bbox: '-21,45,-19,47',
        datetime: '../2027-01-01T00:00:00Z',
      };
      const asked = value[name as keyof typeof value] ?? 'aldermouth';
      expect([name, (await ask(`/collections/portals/items?${name}=${asked}`)).status]).toEqual([name, 200]);
    }
    const { limit } = components.parameters;
    expect(limit.schema).toEqual({ type: 'integer', minimum: 1, maximum: 10_000, default: 10 });
  });
});

describe.each(COLLECTIONS)('the collection %s', (collection) => {
  it('has every feature of every survey once, page by page, as the layers have them', async () => {
    const pages = await walkPages(service, `/collections/${collection}/items?limit=37`);
    const features = pages.flatMap((page) => page.features);
    const expected: Feature[] = [];
    for (const survey of SURVEYS) {
      const updated = survey === 'aldermouth' ? '2026-03-01T12:00:00.000Z' : '2026-04-01T12:00:00.000Z';
      for (const feature of await readLayer(survey, collection)) {
        expect(feature.properties).not.toHaveProperty('survey');
        const id = `${survey}.${feature.id.replace('/', '~')}`;
        expected.push({ ...feature, id, properties: { ...feature.properties, survey, updated } });
      }
    }
    expect(features).toEqual(expected);
    expect(new Set(features.map(({ id }) => id)).size).toBe(expected.length);
    for (const { numberMatched, numberReturned, features: shown } of pages) {
      expect([numberMatched, numberReturned]).toEqual([expected.length, shown.length]);
    }
    expect(pages.slice(0, -1).every(({ features: shown }) => shown.length === 37)).toBe(true);
    const counted = await service.get<Items>(`/collections/${collection}/items?limit=1&survey=liechtenstein`);
    expect(counted.numberMatched).toBe(expected.filter(({ id }) => id.startsWith('liechtenstein')).length);
  });

  it('keeps to RFC 7946, and its bounds and times hold all its features', async () => {
    const { get } = service;
    const text = JSON.stringify(await get(`/collections/${collection}/items?limit=10000`));
    // An independent checker of RFC 7946; throws with every fault it finds.
    check(text);
    const { features } = JSON.parse(text) as Items;
    const { extent } = await get<{
      extent: { spatial: { bbox: number[][] }; temporal: { interval: string[][] } };
    }>(`/collections/${collection}`);
    const [west = 0, south = 0, east = 0, north = 0] = extent.spatial.bbox[0] ?? [];
    for (const { geometry } of features) {
      const numbers = geometry.coordinates.flat(Number.POSITIVE_INFINITY) as number[];
      for (const [i, value] of numbers.entries()) {
        expect(i % 2 === 0 ? west <= value && value <= east : south <= value && value <= north).toBe(true);
        expect(value).toBe(Math.round(value * 1e7) / 1e7);
      }
    }
    // Not the whole world: from the invented harbour in the Atlantic to the Alps.
    expect([west, south, east, north].map(Math.round)).toEqual([-20, 46, 10, 47]);
    expect(extent.temporal.interval).toEqual([['2026-03-01T12:00:00.000Z', '2026-04-01T12:00:00.000Z']]);
  });

  it('tells each feature by itself, too, and the same again from a server that was started anew', async () => {
    const { get } = service;
    const { features } = await get<Items>(`/collections/${collection}/items?limit=10000`);
    const again = await openService();
    const other = await again.get<Items>(`/collections/${collection}/items?limit=10000`);
    expect(other.features.map(({ id }) => id)).toEqual(features.map(({ id }) => id));
    for (const feature of [...features.slice(0, 3), ...features.slice(-3)]) {
      const single = await get<Feature>(`/collections/${collection}/items/${feature.id}`);
      expect(single).toMatchObject(feature);
    }
  });
});
