import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { check } from '@placemarkio/check-geojson';
import { unzipSync } from 'fflate';
import { pino } from 'pino';
import { beforeAll, describe, expect, it } from 'vitest';
import { type AppDeps, createApp } from '../../server/app.ts';
import type { OverpassClient } from '../../server/extracts/overpass-client.ts';
import { openInMemory } from '../../server/store/open-embedded.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { LAYERS } from '../../shared/wire/layers.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';

const demo = join(import.meta.dirname, '../../data/demo/aldermouth.osm');

/** A map server that is always busy: the area route is tested without a network. */
const overpass: OverpassClient = { ask: async () => refused(refusal('overpass-busy')) };

async function create(other: Partial<AppDeps> = {}) {
  return createApp({
    store: await openInMemory(),
    overpass,
    log: pino({ level: 'silent' }),
    uploadLimitBytes: 50e6,
    version: '0.0.0',
    now: () => new Date('2026-01-01T00:00:00Z'),
    ...other,
  });
}

const { app, surveys } = await create();

function post(path: string, body: unknown, headers: Record<string, string> = {}) {
  return app.request(path, {
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json', ...headers },
  });
}

async function upload(name: string, bytes: Uint8Array | string, on = app) {
  const form = new FormData();
  form.set('file', new File([bytes as BlobPart], name));
  return on.request('/api/surveys', { method: 'POST', body: form });
}

/** Follows an import's events to the end: their names, and the last one's data. */
async function follow(id: string, on = app): Promise<{ events: string[]; last: SurveyView }> {
  const text = await (await on.request(`/api/surveys/${id}/events`)).text();
  const blocks = text.split('\n\n').filter((block) => block.startsWith('event:'));
  const events = blocks.map((block) => /^event: (\w+)/.exec(block)?.[1] ?? '');
  return { events, last: JSON.parse(/^data: (.*)$/m.exec(blocks.at(-1) ?? '')?.[1] ?? 'null') };
}

const read = async <T>(path: string): Promise<T> => (await app.request(path)).json() as Promise<T>;

let id = '';
beforeAll(async () => {
  const started = (await (await upload('aldermouth.osm', readFileSync(demo))).json()) as SurveyView;
  id = started.id;
  const { events, last } = await follow(id);
  expect(events.at(-1)).toBe('ready');
  expect(events).toContain('progress');
  expect(last.counts?.complexes).toBeGreaterThan(20);
}, 60_000);

type Tunnel = { network: ComplexNetwork; scheme: Scheme };

type Features = {
  features: { id: string; geometry: { type: string }; properties: Record<string, unknown> }[];
};

describe('a survey from a file', () => {
  it('is listed with its counts', async () => {
    const { surveys: list } = await read<{ surveys: SurveyView[] }>('/api/surveys');
    expect(list.map((s) => [s.id, s.status, s.name])).toEqual([[id, 'ready', 'aldermouth']]);
  });

  it.each(LAYERS)('gives %s as RFC 7946 GeoJSON with the licence and unique ids', async (layer) => {
    const response = await app.request(`/api/surveys/${id}/layers/${layer}`);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toContain('application/geo+json');
    const text = await response.text();
    // An independent checker from the registry; throws with every fault it finds.
    check(text);
    const collection = JSON.parse(text) as Features & { attribution: string; crs?: unknown };
    expect(collection.attribution).toBe('Aldermouth: invented demo data, CC0 1.0, not from OpenStreetMap');
    expect(collection.crs).toBeUndefined();
    expect(collection.features.length).toBeGreaterThan(0);
    expect(new Set(collection.features.map((f) => f.id)).size).toBe(collection.features.length);
    expect(text).not.toMatch(/:null/);
    expect(text).not.toMatch(/\[-?\d+\.\d{8,}/);
  });

  it('gives the whole hand-over as a zip', async () => {
    const response = await app.request(`/api/surveys/${id}/export`);
    const files = unzipSync(new Uint8Array(await response.arrayBuffer()));
    expect(Object.keys(files)).toEqual(
      expect.arrayContaining([
        'complexes.geojson',
        'beacons.geojson',
        'summary.json',
        'import-report.json',
        'survey.csv',
      ]),
    );
  });

  it('reports what was left out', async () => {
    const report = await read<{ reasons: { code: string; count: number; items: { link?: string }[] }[] }>(
      `/api/surveys/${id}/report`,
    );
    expect(report.reasons.map((reason) => reason.code)).toContain('way-not-drivable');
    for (const reason of report.reasons) expect(reason.items).toHaveLength(reason.count);
  });

  it('answers 304 to who has it already', async () => {
    const first = await app.request(`/api/surveys/${id}/layers/bores`);
    const again = await app.request(`/api/surveys/${id}/layers/bores`, {
      headers: { 'if-none-match': first.headers.get('etag') ?? '' },
    });
    expect(again.status).toBe(304);
  });
});

describe('the demo after a restart', () => {
  it('is not taken for what a browser kept of the run before', async () => {
    const layerOf = async (day: string, spacingM: number, tag = '') => {
      const fresh = await create({ now: () => new Date(day) });
      const survey = { id: 'demo', name: 'Demo', demo: true };
      await fresh.surveys.readOwn({ path: demo, name: 'demo' }, survey);
      await fresh.app.request('/api/surveys/demo', {
        method: 'PATCH',
        body: JSON.stringify({ rules: { spacingM } }),
        headers: { 'content-type': 'application/json' },
      });
      return fresh.app.request('/api/surveys/demo/layers/beacons', { headers: { 'if-none-match': tag } });
    };
    // One change in each run: the same revision of the same id, and yet another design.
    const before = await layerOf('2026-01-01T00:00:00Z', 20);
    const after = await layerOf('2026-01-02T00:00:00Z', 100, before.headers.get('etag') ?? '');
    expect(after.status).toBe(200);
  });
});

describe('a design', () => {
  const longest = async () => {
    const { features } = await read<Features>(`/api/surveys/${id}/layers/complexes`);
    return features.reduce((a, b) =>
      Number(b.properties.beaconCount) > Number(a.properties.beaconCount) ? b : a,
    );
  };
  const beaconsOf = async (complex: string) =>
    (await read<Features>(`/api/surveys/${id}/layers/beacons`)).features.filter(
      (f) => f.properties.complex === complex,
    );

  it('changes with the spacing, keeps a moved beacon, and undoes', async () => {
    const complex = await longest();
    const path = `/api/surveys/${id}/complexes/${complex.id}`;
    const before = await beaconsOf(complex.id);
    const wider = await post(`${path}/commands`, {
      baseRevision: 0,
      commands: [{ kind: 'setRule', commandId: 'command-1', rule: 'spacingM', value: 80 }],
    });
    expect(wider.status).toBe(200);
    const after = await beaconsOf(complex.id);
    expect(after.length).toBeLessThan(before.length * 0.6);

    const beacon = after.find((f) => f.properties.role === 'spacing');
    const to = { linkId: beacon?.properties.link, chainageM: Number(beacon?.properties.chainageM) + 5 };
    const slide = {
      kind: 'slideBeacon',
      commandId: 'command-2',
      beaconId: beacon?.properties.beacon,
      to,
      anchor: 'position',
    };
    expect((await post(`${path}/commands`, { baseRevision: 1, commands: [slide] })).status).toBe(200);
    const moved = (await beaconsOf(complex.id)).find((f) => f.properties.beacon === slide.beaconId);
    expect(moved?.properties).toMatchObject({ chainageM: to.chainageM, locked: true, role: 'manual' });

    // A retry of the same request changes nothing; one on an old revision is told what it missed.
    const retry = await post(`${path}/commands`, { baseRevision: 1, commands: [slide] });
    expect(((await retry.json()) as { scheme: { revision: number } }).scheme.revision).toBe(2);
    const stale = await post(`${path}/commands`, {
      baseRevision: 1,
      commands: [{ kind: 'setRule', commandId: 'command-3', rule: 'side', value: 'left' }],
    });
    expect(stale.status).toBe(409);
    expect(await stale.json()).toMatchObject({
      code: 'revision-stale',
      context: { revision: 2, missed: [slide] },
    });

    const undo = ['command-2', 'command-1'].map((revertedId, i) => ({
      kind: 'revert',
      commandId: `revert-${i}x`,
      revertedId,
    }));
    expect((await post(`${path}/commands`, { baseRevision: 2, commands: undo })).status).toBe(200);
    expect(await beaconsOf(complex.id)).toEqual(before);
  });

  it('keeps keep-outs, a choice, and a beacon’s wall and radius, and gives them back', async () => {
    const complex = await longest();
    const path = `/api/surveys/${id}/complexes/${complex.id}`;
    const before = await read<Tunnel>(path);
    const beacon = (await beaconsOf(complex.id)).find((f) => f.properties.role === 'spacing');
    const at = {
      linkId: String(beacon?.properties.link),
      chainageM: Number(beacon?.properties.chainageM),
    };
    const keepOut = {
      id: 'keep-out-1',
      linkId: at.linkId,
      fromM: 10,
      toM: 14.5,
      wall: 'both',
      reason: 'Lüfter',
    };
    const radius = { beaconId: beacon?.properties.beacon, at, wall: 'left', radiusM: 25 };
    const saved = await post(`${path}/commands`, {
      baseRevision: before.scheme.revision,
      commands: [
        { kind: 'addKeepOut', commandId: 'keep-0001', keepOut },
        { kind: 'setRule', commandId: 'keep-0002', rule: 'side', value: 'alternate' },
        { kind: 'setRadius', commandId: 'keep-0003', ...radius },
      ],
    });
    expect(saved.status).toBe(200);
    const { scheme } = await read<Tunnel>(path);
    expect(scheme).toMatchObject({ keepOuts: [keepOut], rules: { side: 'alternate' } });
    expect(scheme.pinned).toMatchObject([{ id: radius.beaconId, at, wall: 'left', radiusM: 25 }]);
    expect(scheme.revision).toBe(before.scheme.revision + 3);

    const undo = ['keep-0003', 'keep-0002', 'keep-0001'].map((revertedId, i) => ({
      kind: 'revert',
      commandId: `keep-undo-${i}`,
      revertedId,
    }));
    const undone = await post(`${path}/commands`, { baseRevision: scheme.revision, commands: undo });
    expect(undone.status).toBe(200);
    const after = await read<Tunnel>(path);
    expect(after.scheme).toMatchObject({ keepOuts: [], pinned: [], rules: before.scheme.rules });
  });

  it('refuses a keep-out, a radius or a choice that makes no sense, by the name of what is wrong', async () => {
    const complex = await longest();
    const path = `/api/surveys/${id}/complexes/${complex.id}`;
    const { scheme, network } = await read<Tunnel>(path);
    const linkId = network.links[0]?.id ?? '';
    const good = { id: 'keep-out-9', linkId, fromM: 10, toM: 14, wall: 'left', reason: '' };
    const add = (part: object) => ({ kind: 'addKeepOut', keepOut: { ...good, ...part } });
    const side = { kind: 'setRule', rule: 'side' };
    for (const [command, status, code, says] of [
      [add({ linkId: 'nowhere' }), 404, 'link-unknown', 'nowhere'],
      [add({ toM: 1e6 }), 400, 'chainage-out-of-range', '1000000'],
      [add({ fromM: 20 }), 400, 'keep-out-empty', '20'],
      [add({ fromM: -1 }), 400, 'request-invalid', 'fromM'],
      [add({ wall: 'roof' }), 400, 'request-invalid', 'wall'],
      [add({ reason: 'x'.repeat(201) }), 400, 'request-invalid', 'reason'],
      [add({ id: 'short' }), 400, 'request-invalid', 'keepOut.id'],
      [add({ more: 1 }), 400, 'request-invalid', 'more'],
      [{ kind: 'removeKeepOut', keepOutId: 'keep-out-9' }, 404, 'keep-out-unknown', 'keep-out-9'],
      [{ ...side, value: 'middle' }, 400, 'choice-invalid', 'Side'],
      [{ ...side, value: 3 }, 400, 'choice-invalid', 'Side'],
      [{ ...side, rule: 'sides', value: 'left' }, 400, 'request-invalid', 'rule'],
    ] as const) {
      const response = await post(`${path}/commands`, {
        baseRevision: scheme.revision,
        commands: [{ ...command, commandId: 'refused-1' }],
      });
      const problem = (await response.json()) as { code: string; detail: string };
      expect([response.status, problem.code]).toEqual([status, code]);
      expect(problem.detail).toContain(says);
    }
    expect((await read<Tunnel>(path)).scheme).toEqual(scheme);
    const patched = await app.request(`/api/surveys/${id}`, {
      method: 'PATCH',
      body: JSON.stringify({ rules: { drivingSide: 'middle' } }),
      headers: { 'content-type': 'application/json' },
    });
    expect(patched.status).toBe(400);
    expect(((await patched.json()) as { detail: string }).detail).toContain('drivingSide');
  });

  it('saves the whole batch or nothing', async () => {
    const complex = await longest();
    const path = `/api/surveys/${id}/complexes/${complex.id}`;
    const { scheme } = await read<{ scheme: { revision: number } }>(path);
    const response = await post(`${path}/commands`, {
      baseRevision: scheme.revision,
      commands: [
        { kind: 'setRule', commandId: 'command-8', rule: 'spacingM', value: 20 },
        { kind: 'setRule', commandId: 'command-9', rule: 'spacingM', value: 1 },
      ],
    });
    expect(response.status).toBe(400);
    expect(await response.json()).toMatchObject({ code: 'rule-invalid' });
    expect((await read<{ scheme: { revision: number } }>(path)).scheme).toEqual(scheme);
  });

  it('follows the survey’s rules', async () => {
    const before = await read<SurveyView>(`/api/surveys/${id}`);
    const patch = (rules: object) =>
      app.request(`/api/surveys/${id}`, {
        method: 'PATCH',
        body: JSON.stringify({ rules }),
        headers: { 'content-type': 'application/json' },
      });
    const changed = (await (await patch({ spacingM: 20 })).json()) as SurveyView;
    expect(changed.counts?.beacons).toBeGreaterThan((before.counts?.beacons ?? 0) * 1.8);
    expect((await patch({ spacingM: 1 })).status).toBe(400);
    expect((await patch({ spacingKm: 1 })).status).toBe(400);
    await patch({ spacingM: 40 });
    expect((await read<SurveyView>(`/api/surveys/${id}`)).counts).toEqual(before.counts);
  });
});

describe('refusals', () => {
  it.each([
    ['GET', '/api/surveys/none', 404, 'survey-unknown'],
    ['GET', '/api/surveys/none/layers/bores', 404, 'survey-unknown'],
    ['GET', '/api/surveys/none/layers/nonsense', 400, 'request-invalid'],
    ['DELETE', '/api/surveys/none', 404, 'survey-unknown'],
    ['GET', '/api/nothing', 404, 'not-found'],
  ])('%s %s is %s', async (method, path, status, code) => {
    const response = await app.request(path, { method });
    expect(response.status).toBe(status);
    expect(response.headers.get('content-type')).toBe('application/problem+json');
    expect(await response.json()).toMatchObject({ code, status, detail: expect.stringMatching(/\.$/) });
  });

  it.each([
    [{ area: { bbox: [10, 50, 9, 51] } }, 'area-invalid'],
    [{ area: { bbox: [0, 0, 60, 60] } }, 'area-too-large'],
    [{ area: { bbox: ['a', 0, 1, 1] } }, 'request-invalid'],
    [{}, 'request-invalid'],
  ])('refuses the area %j', async (body, code) => {
    expect(await (await post('/api/surveys', body)).json()).toMatchObject({ code });
  });

  it('refuses a body that is no JSON, and an upload without a file', async () => {
    const broken = await app.request('/api/surveys', {
      method: 'POST',
      body: '{"area":',
      headers: { 'content-type': 'application/json' },
    });
    expect(await broken.json()).toMatchObject({ code: 'request-invalid' });
    const none = await app.request('/api/surveys', { method: 'POST', body: new FormData() });
    expect(none.status).toBe(400);
  });

  it('refuses an upload above the limit', async () => {
    const response = await upload(
      'big.osm',
      new Uint8Array(2e6),
      (await create({ uploadLimitBytes: 1e6 })).app,
    );
    expect(response.status).toBe(413);
  });

  it('refuses more imports than can wait, and takes one again when another one is given up', async () => {
    const ask = (_: string, { signal }: { signal: AbortSignal }) =>
      new Promise<never>((_resolve, reject) => signal.addEventListener('abort', () => reject(signal.reason)));
    const { app: own } = await create({ overpass: { ask } as unknown as OverpassClient });
    const start = () =>
      own.request('/api/surveys', {
        method: 'POST',
        body: JSON.stringify({ area: { bbox: [9.5, 47.1, 9.55, 47.15] } }),
        headers: { 'content-type': 'application/json' },
      });
    const started = await Promise.all(Array.from({ length: 20 }, start));
    expect(new Set(started.map(({ status }) => status))).toEqual(new Set([202]));
    const more = await start();
    expect([more.status, await more.json()]).toEqual([
      429,
      expect.objectContaining({ code: 'imports-too-many', context: { waiting: 20 } }),
    ]);
    const { id } = (await (started[7] as Response).json()) as SurveyView;
    expect((await own.request(`/api/surveys/${id}`, { method: 'DELETE' })).status).toBe(204);
    expect((await start()).status).toBe(202);
  });

  it('refuses a change that a page from elsewhere asks for', async () => {
    const response = await post(
      '/api/surveys',
      {},
      { origin: 'https://elsewhere.example', host: '127.0.0.1:4600' },
    );
    expect(response.status).toBe(403);
  });

  it.each([
    ['empty.osm', '', 'input-empty'],
    ['page.osm', '<!DOCTYPE html><html><body>Not found</body></html>', 'input-html'],
    [
      'entities.osm',
      '<?xml version="1.0"?><!DOCTYPE o [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]><osm>&b;</osm>',
      'input-entities',
    ],
    ['cut.osm', '<?xml version="1.0"?><osm version="0.6"><node id="1" lat="1" lon="1"/>', 'input-truncated'],
    ['none.osm', '<?xml version="1.0"?><osm version="0.6"></osm>', 'input-no-tunnels'],
    [
      'off.osm',
      '<osm version="0.6"><node id="1" lat="4600000" lon="1"/><node id="2" lat="1" lon="1"/><way id="3"><nd ref="1"/><nd ref="2"/><tag k="highway" v="primary"/><tag k="tunnel" v="yes"/></way></osm>',
      'input-coordinates',
    ],
    ['noise.bin', new Uint8Array([0, 255, 3, 8, 1, 2, 3]), 'input-unknown-format'],
  ])('refuses %s with one sentence, and goes on serving', async (name, content, code) => {
    const started = (await (await upload(name, content)).json()) as SurveyView;
    const { events, last } = await follow(started.id);
    expect(events.at(-1)).toBe('refused');
    expect(last.refusal?.code).toBe(code);
    expect(last.refusal?.detail).toContain(name);
    expect((await app.request('/healthz')).status).toBe(200);
    await app.request(`/api/surveys/${started.id}`, { method: 'DELETE' });
  });

  it('tells why an area could not be asked for', async () => {
    const started = (await (
      await post('/api/surveys', { area: { bbox: [-20.1, 45.9, -19.9, 46.1] } })
    ).json()) as SurveyView;
    expect((await follow(started.id)).last.refusal?.code).toBe('overpass-busy');
  });
});

describe('a running import', () => {
  it('can be cancelled', async () => {
    const started = (await (await upload('aldermouth.osm', readFileSync(demo))).json()) as SurveyView;
    expect((await app.request(`/api/surveys/${started.id}`, { method: 'DELETE' })).status).toBe(204);
    expect((await app.request(`/api/surveys/${started.id}`)).status).toBe(404);
    expect((await surveys.list()).map((s) => s.id)).not.toContain(started.id);
  });
});

describe('the API’s description', () => {
  it('is OpenAPI 3.1 and names every route', async () => {
    const document = await read<{ openapi: string; paths: Record<string, object> }>('/api/openapi.json');
    expect(document.openapi).toBe('3.1.0');
    expect(Object.keys(document.paths)).toEqual(
      expect.arrayContaining(['/api/surveys', '/api/surveys/{id}', '/api/surveys/{id}/layers/{layer}']),
    );
    expect((await (await app.request('/schemas/beacons.json')).json()) as object).toMatchObject({
      type: 'object',
    });
    expect(await (await app.request('/api/docs')).text()).toContain('/api/surveys/{id}/export');
  });
});
