import { SaxesParser } from 'saxes';
import { beforeAll, describe, expect, it } from 'vitest';
import { COLLECTIONS, openService, type Service } from './open-service.ts';

let service: Service;
beforeAll(async () => {
  service = await openService();
}, 60_000);

const PAGES = [
  '?f=html',
  '/conformance?f=html',
  '/api?f=html',
  '/collections?f=html',
  ...COLLECTIONS.flatMap((id) => [
    `/collections/${id}?f=html`,
    `/collections/${id}/items?f=html&limit=40`,
    `/collections/${id}/items?f=html&survey=liechtenstein`,
  ]),
];

async function readPage(href: string): Promise<string> {
  const answer = await service.ask(href);
  expect([href, answer.status, answer.headers.get('content-type')]).toEqual([
    href,
    200,
    'text/html; charset=UTF-8',
  ]);
  return answer.text();
}

/** The elements of a page in order; throws where one is not closed, or a letter is not escaped. */
function readElements(page: string): readonly { name: string; attributes: Record<string, string> }[] {
  const elements: { name: string; attributes: Record<string, string> }[] = [];
  const parser = new SaxesParser();
  parser.on('opentag', ({ name, attributes }) => elements.push({ name, attributes }));
  // Elements without content, as XML has them.
  parser.write(page.replace('<!doctype html>', '').replace(/<(meta|link)([^>]*)>/g, '<$1$2/>')).close();
  return elements;
}

describe.each(PAGES)('the page %s', (href) => {
  it('is whole, names whose data it shows, and keeps to the policy: nothing inline, nothing from elsewhere', async () => {
    const page = await readPage(href);
    const elements = readElements(page);
    const names = elements.map(({ name }) => name);
    expect(names.filter((name) => ['h1', 'main', 'title', 'footer'].includes(name)).sort()).toEqual([
      'footer',
      'h1',
      'main',
      'title',
    ]);
    for (const name of ['script', 'style', 'form', 'img']) expect(names).not.toContain(name);
    for (const { attributes } of elements) {
      expect(Object.keys(attributes).filter((name) => /^(style|on)/.test(name))).toEqual([]);
    }
    const sheets = elements.filter(({ attributes }) => attributes.rel === 'stylesheet');
    expect(sheets.map(({ attributes }) => attributes.href)).toEqual(['http://localhost/ogc/style.css']);
    expect(page).toContain('© OpenStreetMap contributors');
    expect(page).toContain('<a rel="license" href="https://opendatacommons.org/licenses/odbl/1-0/">');
    expect(page).toMatch(/^<!doctype html>\n<html lang="en">/);
    expect(page).not.toMatch(/undefined|\[object|NaN|Infinity/);
  });
});

describe('the pages', () => {
  it('show features in a table that leads to each, and turn page by page', async () => {
    const { features } = await service.get<{ features: { id: string; properties: { name?: string } }[] }>(
      '/collections/complexes/items?limit=20',
    );
    let page = await readPage('/collections/complexes/items?f=html&limit=8');
    const ids: string[] = [];
    for (let turns = 0; turns < 3; turns += 1) {
      expect(page).toContain(`${turns * 8 + 1}–${turns * 8 + 8} of 3`);
      ids.push(...[...page.matchAll(/items\/([^"?]+)\?f=html">/g)].map(([, id = '']) => id));
      const next = /<a rel="next" href="([^"]+)"/.exec(page)?.[1]?.replaceAll('&amp;', '&');
      page = await readPage(next ?? '');
    }
    expect(ids.slice(0, 20)).toEqual(features.map(({ id }) => id));
    const single = await readPage(`/collections/complexes/items/${ids[0]}?f=html`);
    expect(single).toContain(`<h1>${ids[0]}</h1>`);
    expect(single).toContain(features[0]?.properties.name ?? 'no name');
    expect(await readPage('/collections/beacons/items?f=html&bbox=0,0,1,1')).toContain('No feature is here.');
    // A page has at most 500 rows, and goes on after them.
    const long = await readPage('/collections/beacons/items?f=html&limit=10000');
    expect(long.match(/<tr>/g)).toHaveLength(501);
    expect(long).toContain('limit=10000&amp;f=html&amp;offset=500"');
  });

  it('escape what people wrote', async () => {
    expect(await readPage('/collections/bores?f=html')).toContain(
      '&lt;b&gt;Liechtenstein&lt;/b&gt; &amp; &quot;more&quot;</a> (liechtenstein)',
    );
    const hostile = '"><script>alert(1)</script>';
    const answer = await service.ask(
      `/collections/beacons/items?f=html&survey=${encodeURIComponent(hostile)}`,
    );
    expect(answer.headers.get('content-type')).toBe('application/json');
    const asked = encodeURIComponent('../2026-12-31T00:00:00Z');
    const page = await readPage(
      `/collections/beacons/items?f=html&limit=1&datetime=${asked}&bbox=%20-30,40,20,50`,
    );
    expect(page).not.toContain('<script');
    readElements(page);
  });

  it('have a stylesheet that anybody may read, for light and dark', async () => {
    const answer = await service.ask('/style.css');
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'text/css; charset=utf-8']);
    expect(await answer.text()).toContain('prefers-color-scheme: dark');
  });
});
