import { bboxPolygon, booleanIntersects } from '@turf/turf';
import { beforeAll, describe, expect, it } from 'vitest';
import { openInMemory } from '../../../server/store/open-embedded.ts';
import { RefusalError } from '../../../shared/outcome/refusal.ts';
import {
  BASE,
  COLLECTIONS,
  checkShape,
  findLink,
  type Items,
  openService,
  type Service,
  walkPages,
} from './open-service.ts';

let service: Service;
beforeAll(async () => {
  service = await openService();
}, 60_000);

const items = (query: string, collection = 'beacons') =>
  service.get<Items>(`/collections/${collection}/items${query}`);

describe('limit and offset', () => {
  it.each([
    ['', 10],
    ['?limit=1', 1],
    ['?limit=333', 333],
    ['?limit=10000', 'all'],
    ['?limit=10001', 'all'],
    ['?limit=99999999999999999999', 'all'],
    ['?offset=1000000', 0],
  ] as const)('%s gives %s', async (query, count) => {
    const page = await items(query);
    const expected = count === 'all' ? page.numberMatched : count;
    expect([page.features.length, page.numberReturned]).toEqual([expected, expected]);
    expect(page.numberMatched).toBeGreaterThan(860);
  });

  it('a page links to those before and after, with all that was asked', async () => {
    const asked = '?limit=20&bbox=-20.05,45.9,-20,46.1&datetime=2026-01-01T00:00:00Z/..&survey=aldermouth';
    const middle = await items(`${asked}&offset=40`);
    const read = (rel: string) =>
      Object.fromEntries(new URL(findLink(middle.links, rel)?.href ?? BASE).searchParams);
    const same = {
      limit: '20',
      bbox: '-20.05,45.9,-20,46.1',
      datetime: '2026-01-01T00:00:00Z/..',
      survey: 'aldermouth',
    };
    expect(read('next')).toEqual({ ...same, f: 'json', offset: '60' });
    expect(read('prev')).toEqual({ ...same, f: 'json', offset: '20' });
    expect(read('self')).toEqual({ ...same, f: 'json', offset: '40' });
    expect(read('alternate')).toEqual({ ...same, f: 'html', offset: '40' });
    expect(findLink(middle.links, 'collection')?.href).toBe(`${BASE}/collections/beacons`);
    const next = await service.get<Items>(findLink(middle.links, 'next')?.href ?? '');
    const back = await service.get<Items>(findLink(next.links, 'prev')?.href ?? '');
    expect(back.features).toEqual(middle.features);
    expect(next.features).not.toEqual(middle.features);
    const first = await items(asked);
    const last = (await walkPages(service, `/collections/beacons/items${asked}`)).at(-1);
    expect([findLink(first.links, 'prev'), last && findLink(last.links, 'next')]).toEqual([
      undefined,
      undefined,
    ]);
  });
});

describe('bbox', () => {
  const boxes = [
    [-20.05, 45.98, -20.0, 46.01],
    [-20.03, 45.985, -20.028, 46.01],
    [9.5, 47.0, 9.6, 47.3],
    [-180, -90, 180, 90],
    [-30, 40, 20, 50],
    [0, 0, 1, 1],
  ] as const;

  it.each(boxes.flatMap((box) => COLLECTIONS.map((collection) => [box, collection] as const)))(
    '%j holds of %s what another library says',
    async (box, collection) => {
      const { features } = await items('?limit=10000', collection);
      const inside = features.filter(({ geometry }) =>
        booleanIntersects(geometry as never, bboxPolygon([...box])),
      );
      const found = await items(`?limit=10000&bbox=${box.join(',')}`, collection);
      expect(found.features.map(({ id }) => id)).toEqual(inside.map(({ id }) => id));
      expect(found.numberMatched).toBe(inside.length);
    },
  );

  it('counts its pages over surveys, takes heights, and goes over the antimeridian', async () => {
    const all = await items('?limit=10000&bbox=-30,40,20,50');
    const pages = await walkPages(service, '/collections/beacons/items?limit=100&bbox=-30,40,0,20,50,9');
    expect(pages.flatMap(({ features }) => features)).toEqual(all.features);
    // West of the harbour or east of the Alps, not between the two.
    const around = await items('?limit=10000&bbox=5,40,-20.03,50');
    const expected = all.features.filter(({ geometry }) => {
      const lon = Number(geometry.coordinates[0]);
      return lon >= 5 || lon <= -20.03;
    });
    expect(expected.length).toBeGreaterThan(0);
    expect(expected.length).toBeLessThan(all.features.length);
    expect(around.features).toEqual(expected);
  });
});

describe('datetime and survey', () => {
  it.each([
    ['2026-03-01T12:00:00Z', ['aldermouth']],
    ['2026-03-01T13:00:00%2B01:00', ['aldermouth']],
    ['2026-03-01', ['aldermouth']],
    ['2026-03-01T12:00:01Z', []],
    ['../2026-03-31', ['aldermouth']],
    ['2026-03-01T12:00:00.001Z/..', ['liechtenstein']],
    ['2026-03-01/2026-04-01', ['aldermouth', 'liechtenstein']],
    ['2020-01-01/2020-12-31', []],
  ])('%s: surveys that were changed last then: %j', async (datetime, surveys) => {
    for (const collection of ['complexes', 'beacons']) {
      const { features, numberMatched } = await items(`?limit=10000&datetime=${datetime}`, collection);
      expect([...new Set(features.map(({ properties }) => properties.survey))]).toEqual(surveys);
      expect(numberMatched).toBe(features.length);
    }
  });

  it('an edit makes the survey’s features newer; survey asks for one alone', async () => {
    let now = new Date('2026-03-01T12:00:00.000Z');
    const edited = await openService({ now: () => now });
    const before = await edited.get<Items>('/collections/beacons/items?limit=1&survey=aldermouth');
    now = new Date('2026-06-01T08:00:00.000Z');
    await edited.surveys.change('aldermouth', { rules: { spacingM: 80 } });
    const after = await edited.get<Items>('/collections/beacons/items?limit=10000&datetime=2026-06-01');
    expect([...new Set(after.features.map(({ properties }) => properties.survey))]).toEqual(['aldermouth']);
    expect(after.numberMatched).toBeLessThan(before.numberMatched);
    const layer = await edited.app.request('/api/surveys/aldermouth/layers/beacons');
    expect(after.numberMatched).toBe(((await layer.json()) as Items).features.length);
    await edited.surveys.remove('aldermouth');
    expect((await edited.get<Items>('/collections/beacons/items?survey=liechtenstein')).numberMatched).toBe(
      (await edited.get<Items>('/collections/beacons/items')).numberMatched,
    );
  });
});

describe('what is not right', () => {
  const beacons = '/collections/beacons/items';
  it.each([
    [`${beacons}?limit=0`, 400, 'parameter-invalid'],
    [`${beacons}?limit=-1`, 400, 'parameter-invalid'],
    [`${beacons}?limit=ten`, 400, 'parameter-invalid'],
    [`${beacons}?limit=1.5`, 400, 'parameter-invalid'],
    [`${beacons}?limit=`, 400, 'parameter-invalid'],
    [`${beacons}?limit=1e3`, 400, 'parameter-invalid'],
    [`${beacons}?limit=5&limit=6`, 400, 'parameter-invalid'],
    [`${beacons}?offset=-1`, 400, 'parameter-invalid'],
    [`${beacons}?bbox=1,2,NaN,4`, 400, 'parameter-invalid'],
    [`${beacons}?bbox=1,2,3`, 400, 'parameter-invalid'],
    [`${beacons}?bbox=1,4,3,2`, 400, 'parameter-invalid'],
    [`${beacons}?datetime=yesterday`, 400, 'parameter-invalid'],
    [`${beacons}?datetime=2026-02-30T00:00:00Z`, 400, 'parameter-invalid'],
    [`${beacons}?survey=atlantis`, 400, 'parameter-invalid'],
    [`${beacons}?f=xml`, 400, 'parameter-invalid'],
    [`${beacons}?bbox-crs=x`, 400, 'parameter-unknown'],
    [`${beacons}?__proto__=x`, 400, 'parameter-unknown'],
    ['?limit=5', 400, 'parameter-unknown'],
    ['/collections/beacons?bbox=1,2,3,4', 400, 'parameter-unknown'],
    ['/collections/coverage', 404, 'collection-unknown'],
    ['/collections/coverage/items', 404, 'collection-unknown'],
    ['/collections/constructor/items', 404, 'collection-unknown'],
    [`${beacons}/nothing`, 404, 'feature-unknown'],
    [`${beacons}/aldermouth.t1`, 404, 'feature-unknown'],
    [`${beacons}/atlantis.t1`, 404, 'feature-unknown'],
    [`${beacons}/aldermouth.__proto__`, 404, 'feature-unknown'],
    [`${beacons}/%00%2F..%2F`, 404, 'feature-unknown'],
    ['/nothing', 404, 'not-found'],
  ])('%s: %i %s', async (href, status, code) => {
    const answer = await service.ask(href);
    const exception = (await answer.json()) as { code: string; description: string };
    expect([answer.status, exception.code]).toEqual([status, code]);
    expect(answer.headers.get('content-type')).toBe('application/json');
    checkShape('exception', exception);
    expect(exception.description).toMatch(/^[A-Z].{15,}/);
  });
});

describe('a fault', () => {
  it('of the program or of its store is told in the standard’s way', async () => {
    const store = await openInMemory();
    let fault = new Error('broken');
    const broken = await openService({
      store: {
        ...store,
        listRevisions: () => {
          throw fault;
        },
      },
    });
    const answer = await broken.ask('/collections');
    const exception = (await answer.json()) as object;
    expect([answer.status, exception]).toMatchObject([500, { code: 'fault' }]);
    checkShape('exception', exception);
    fault = new RefusalError('store-unreachable');
    const other = await broken.ask('/collections');
    expect([other.status, await other.json()]).toMatchObject([503, { code: 'store-unreachable' }]);
  });
});

describe('the format', () => {
  const PAGES = [
    '',
    '/conformance',
    '/api',
    '/collections',
    '/collections/bores',
    '/collections/bores/items',
  ];
  it.each(PAGES)('of %s is JSON or HTML by Accept, by f before it, and nothing else', async (href) => {
    const typeOf = async (query: string, accept?: string) => {
      const answer = await service.ask(`${href}${query}`, accept === undefined ? {} : { accept });
      return [answer.status, /json|html/.exec(answer.headers.get('content-type') ?? '')?.[0]];
    };
    expect(await typeOf('')).toEqual([200, 'json']);
    expect(await typeOf('', '*/*')).toEqual([200, 'json']);
    expect(await typeOf('', 'text/html,application/xml;q=0.9,*/*;q=0.8')).toEqual([200, 'html']);
    expect(await typeOf('?f=html', 'application/json')).toEqual([200, 'html']);
    expect(await typeOf('?f=json', 'text/html')).toEqual([200, 'json']);
    const other = await service.ask(href, { accept: 'application/gml+xml' });
    expect([other.status, await other.json()]).toMatchObject([406, { code: 'format-unavailable' }]);
    for (const accept of ['text/html', 'application/json']) {
      const head = await service.ask(href, { accept }, 'HEAD');
      const got = await service.ask(href, { accept });
      expect([head.status, await head.text()]).toEqual([200, '']);
      expect(head.headers.get('content-type')).toBe(got.headers.get('content-type'));
      expect(head.headers.get('vary')).toContain('accept');
    }
    expect((await service.ask(href, {}, 'POST')).status).toBe(404);
  });
});
