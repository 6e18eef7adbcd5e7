import { unzipSync } from 'fflate';
import { pino } from 'pino';
import { afterEach, describe, expect, it } from 'vitest';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { buildSurvey } from '../../shared/pipeline/build-survey.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { type AppDeps, createApp } from '../app.ts';
import { openInMemory } from '../store/open-embedded.ts';

const base = buildSurvey(
  drawPlace({
    nodes: { 1: [0, 0], 2: [400, 0] },
    ways: [{ id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes', maxspeed: '50' } }],
  }),
  'place',
);
if (!base.ok) throw new Error(base.refusal.code);
const { value } = base;

/** The app over a store that holds one survey, `s`. */
async function create({ name = 'place', ...other }: Partial<AppDeps> & { name?: string } = {}) {
  const store = await openInMemory();
  await store.saveSurvey(
    {
      ...value,
      id: 's',
      name,
      demo: false,
      createdAt: '2026-01-01T00:00:00.000Z',
      revision: 0,
      rules: DEFAULT_RULES,
      source: { format: 'osm-xml', name: 'place.osm' },
      extractId: 'extract-1',
      log: [],
      evidence: {},
      contextGzip: new Uint8Array(),
    },
    new Uint8Array(),
  );
  const { app } = createApp({
    store,
    overpass: { ask: async () => refused(refusal('overpass-busy')) },
    log: pino({ level: 'silent' }),
    uploadLimitBytes: 1e6,
    version: '0.0.0',
    now: () => new Date('2026-01-01T00:00:00Z'),
    ...other,
  });
  return { app, store };
}

const code = async (response: Response) => ((await response.json()) as { code: string }).code;

describe('the export', () => {
  const zone = process.env.TZ;
  afterEach(() => {
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
  });

  it('is the same bytes in every time zone', async () => {
    const zips: Uint8Array[] = [];
    for (const place of ['UTC', 'America/New_York', 'Asia/Tokyo']) {
      process.env.TZ = place;
      const { app } = await create();
      zips.push(new Uint8Array(await (await app.request('/api/surveys/s/export')).arrayBuffer()));
    }
    expect(Object.keys(unzipSync(zips[0] as Uint8Array))).toContain('beacons.geojson');
    expect(zips[1]).toEqual(zips[0]);
    expect(zips[2]).toEqual(zips[0]);
  });

  it.each([
    ['Túnel Ñ "1"\r\nx: y', 't-nel-1-x-y.zip'],
    ['東京', 'survey.zip'],
    ['..', 'survey.zip'],
    ['City 2026', 'city-2026.zip'],
  ])('of %j is called %s', async (name, file) => {
    const { app } = await create({ name });
    const { headers } = await app.request('/api/surveys/s/export');
    expect(headers.get('content-disposition')).toBe(`attachment; filename="${file}"`);
  });
});

describe('a body', () => {
  const send = async (path: string, method: string, type: string | undefined, body: string) =>
    (await create()).app.request(path, {
      method,
      body,
      headers: type === undefined ? {} : { 'content-type': type },
    });

  it.each([
    ['/api/surveys/s', 'PATCH'],
    ['/api/surveys/s/complexes/t11/commands', 'POST'],
    ['/api/overpass-preview', 'POST'],
  ])('that is not called JSON is refused at %s', async (path, method) => {
    const response = await send(path, method, 'text/plain', '{"name":"x"}');
    expect([response.status, await code(response)]).toEqual([400, 'request-invalid']);
  });

  it.each([
    ['/api/surveys', 'POST'],
    ['/api/surveys/s', 'PATCH'],
    ['/api/surveys/s/complexes/t11/commands', 'POST'],
    ['/api/overpass-preview', 'POST'],
  ])('of several megabytes is refused at %s', async (path, method) => {
    const response = await send(path, method, 'application/json', `{"name":"${'x'.repeat(5e6)}"}`);
    expect([response.status, await code(response)]).toEqual([413, 'request-too-large']);
  });

  it('that say beforehand that they are too large are refused before they are sent', async () => {
    const { app } = await create();
    let pulled = 0;
    const body = new ReadableStream({
      pull(controller) {
        pulled += 1;
        controller.enqueue(new Uint8Array(65_536));
      },
    });
    const response = await app.request('/api/surveys', {
      method: 'POST',
      body,
      duplex: 'half',
      headers: { 'content-type': 'multipart/form-data; boundary=x', 'content-length': '5000000' },
    } as RequestInit);
    expect([response.status, await code(response)]).toEqual([413, 'request-too-large']);
    expect(pulled).toBeLessThan(3);
  });
});

describe('an upload', () => {
  const upload = async (name: string): Promise<SurveyView> => {
    const form = new FormData();
    form.set('file', new File(['<osm/>'], name));
    const { app } = await create();
    const started = await app.request('/api/surveys', { method: 'POST', body: form });
    const view = (await started.json()) as SurveyView;
    // To its end, so that the file is cleared up.
    await (await app.request(`/api/surveys/${view.id}/events`)).text();
    return view;
  };

  it.each([
    ['Túnel.osm.pbf', 'Túnel'],
    ['東京.osm', '東京'],
    ['.osm', '.osm'],
  ])('of %s becomes the survey %s', async (file, name) => {
    expect((await upload(file)).name).toBe(name);
  });

  it('has a name of at most 200 characters', async () => {
    expect((await upload(`${'x'.repeat(3000)}.osm`)).name).toHaveLength(200);
  });
});

describe('an import’s events', () => {
  it('end with the refusal when it is cancelled', async () => {
    const { app } = await create({
      overpass: {
        ask: (_, asking) =>
          new Promise((resolve) =>
            asking?.signal?.addEventListener('abort', () => resolve(refused(refusal('job-cancelled')))),
          ),
      },
    });
    const started = await app.request('/api/surveys', {
      method: 'POST',
      body: JSON.stringify({ area: { bbox: [-20.1, 45.9, -19.9, 46.1] } }),
      headers: { 'content-type': 'application/json' },
    });
    const { id } = (await started.json()) as SurveyView;
    const events = (await app.request(`/api/surveys/${id}/events`)).text();
    await new Promise((resolve) => setTimeout(resolve, 20));
    await app.request(`/api/surveys/${id}`, { method: 'DELETE' });
    const last = (await events).trim().split('\n\n').at(-1);
    expect(last).toMatch(/^event: refused\n/);
    expect(last).toContain('"code":"job-cancelled"');
  });

  it('end, and the process does not, where the store fails', async () => {
    const good = await openInMemory();
    let asked = 0;
    const store = {
      ...good,
      async findSurvey(id: string) {
        asked += 1;
        if (asked > 1) throw new Error('the disk is gone');
        return good.findSurvey(id);
      },
    };
    const { store: filled } = await create();
    await good.saveSurvey((await filled.findSurvey('s')) as never, new Uint8Array());
    const { app } = await create({ store });
    const unhandled: unknown[] = [];
    const note = (error: unknown) => unhandled.push(error);
    process.on('unhandledRejection', note);
    const ended = (await app.request('/api/surveys/s/events')).text();
    await expect(Promise.race([ended, new Promise((r) => setTimeout(r, 500, 'open'))])).resolves.not.toBe(
      'open',
    );
    await new Promise((resolve) => setTimeout(resolve, 20));
    process.off('unhandledRejection', note);
    expect(unhandled).toEqual([]);
  });
});
