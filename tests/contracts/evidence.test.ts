import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { pino } from 'pino';
import { beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '../../server/app.ts';
import { openInMemory } from '../../server/store/open-embedded.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { evidenceReportSchema } from '../../shared/wire/ranking.ts';
import { type SurveyView, surveySchema } from '../../shared/wire/survey.ts';

const demo = join(import.meta.dirname, '../../data/demo');
const traffic = readFileSync(join(demo, 'aldermouth-traffic.csv'));
const beacons = readFileSync(join(demo, 'aldermouth-beacons.csv'));

const { app, surveys } = createApp({
  store: await openInMemory(),
  overpass: { ask: async () => refused(refusal('overpass-busy')) },
  log: pino({ level: 'silent' }),
  uploadLimitBytes: 50e6,
  version: '0.0.0',
  now: () => new Date('2026-01-01T00:00:00Z'),
});

beforeAll(async () => {
  const file = { path: join(demo, 'aldermouth.osm'), name: 'aldermouth.osm' };
  await surveys.readOwn(file, { id: 'demo', name: 'Aldermouth', demo: false });
}, 60_000);

const put = (path: string, body: Uint8Array | string, id = 'demo') =>
  app.request(`/api/surveys/${id}/${path}`, { method: 'PUT', body: body as BodyInit });
const take = (kind: string, id = 'demo') => app.request(`/api/surveys/${id}/${kind}`, { method: 'DELETE' });
const viewOf = async (response: Response): Promise<SurveyView> => {
  expect(response.status).toBe(200);
  return surveySchema.parse(await response.json());
};

type Figures = { id: string; name?: string; rank?: number; misguidedPerDay?: number; status?: string };

async function complexes(): Promise<Map<string, Figures>> {
  const response = await app.request('/api/surveys/demo/layers/complexes');
  const { features } = (await response.json()) as { features: { id: string; properties: Figures }[] };
  return new Map(features.map(({ id, properties }) => [id, properties]));
}

async function reportOf(id = 'demo') {
  return evidenceReportSchema.parse(await (await app.request(`/api/surveys/${id}/evidence`)).json());
}

async function exported(): Promise<Map<string, string>> {
  const zip = new Uint8Array(await (await app.request('/api/surveys/demo/export')).arrayBuffer());
  return new Map(
    Object.entries(unzipSync(zip)).map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]),
  );
}

describe('beacons that are there already', () => {
  it('make tunnels equipped, stay with the survey, and can be taken away', async () => {
    const before = await complexes();
    const { revision } = await viewOf(await app.request('/api/surveys/demo'));
    const view = await viewOf(await put('existing?name=beacons.csv', beacons));
    const items = beacons.toString().trim().split('\n').length - 1;
    expect(view.revision).toBe(revision + 1);
    // The demo's own faults: a beacon on no bore, and one whose date is none. One between two bores of a tunnel is the tunnel's.
    expect(view.evidence?.existing).toEqual({ name: 'beacons.csv', items, matched: items - 1, notes: 1 });

    const after = [...(await complexes()).values()];
    const named = (status: string) => after.filter((one) => one.status === status).map(({ name }) => name);
    expect(named('equipped')).toHaveLength(1);
    expect(named('partly equipped').sort()).toEqual(['Aldermouth Harbour Tunnel', 'Fold Hill Tunnel']);
    expect([...before.values()].some(({ status }) => status === 'equipped')).toBe(false);

    expect((await viewOf(await take('existing'))).evidence).toEqual({});
    expect(await complexes()).toEqual(before);
    const gone = await viewOf(await take('existing'));
    expect(gone.revision).toBe(revision + 2);
  });

  it('are told with the beacon that could hang in either of two bores, and how far each is', async () => {
    await put('existing?name=beacons.csv', beacons);
    const { existing } = await reportOf();
    const lineOf = (device: string) =>
      1 +
      beacons
        .toString()
        .split('\n')
        .findIndex((row) => row.startsWith(device));
    expect(existing?.rows.map(({ line, code }) => [line, code])).toEqual([
      [lineOf('AL-3001'), 'existing-ambiguous'],
      [lineOf('AL-3003'), 'existing-value-ignored'],
      [lineOf('AL-3003'), 'existing-unmatched'],
    ]);
    const [between] = existing?.rows ?? [];
    expect(between?.detail).toMatch(/AL-3001/);
    expect(between?.detail.match(/distanceM: \d+/gi)).toHaveLength(2);
    expect(existing?.matchCount).toBe(lineOf('AL-3003') - 1 - 1);
    expect(between?.detail).toMatch(/given: to the tunnel/);
    const distances = existing?.matches.map(({ distanceM }) => distanceM) ?? [];
    expect(distances).toEqual([...distances].sort((a, b) => b - a));
    await take('existing');
  });

  it('are reported with their distance, and those near no bore by their line', async () => {
    const [, lon, lat] = (beacons.toString().split('\n')[1] ?? '').split(',').map(Number) as number[];
    const far = (lat ?? 0) + 0.01;
    await put('existing', `lon,lat,device_id\n${lon},${lat},A\n${lon},${far},B\n`);
    const report = await reportOf();
    expect(report.existing?.matches).toHaveLength(1);
    expect(report.existing?.matchCount).toBe(1);
    const [match] = report.existing?.matches ?? [];
    expect(match).toMatchObject({ line: 2, deviceId: 'A' });
    expect(match?.distanceM).toBeGreaterThan(0);
    expect(match?.distanceM).toBeLessThan(10);
    expect((await complexes()).get(match?.complex ?? '')?.status).toBe('partly equipped');
    expect(report.existing?.rows).toMatchObject([{ line: 3, code: 'existing-unmatched' }]);
    await take('existing');
  });

  it('may be GeoJSON, told by content', async () => {
    const [, lon, lat] = (beacons.toString().split('\n')[1] ?? '').split(',').map(Number);
    const point = { type: 'Point', coordinates: [lon, lat] };
    const features = [{ type: 'Feature', properties: { device_id: 'A' }, geometry: point }];
    const text = JSON.stringify({ type: 'FeatureCollection', features });
    const view = await viewOf(await put('existing', text));
    expect(view.evidence?.existing).toEqual({ name: 'existing', items: 1, matched: 1, notes: 0 });
    await take('existing');
  });
});

describe('counts of traffic', () => {
  it('change what tunnels are ranked by, list the rows that are no use, and can be taken away', async () => {
    const before = await complexes();
    expect(await reportOf()).toEqual({});
    const faulty = `${traffic.toString().trim()}\n,,No Such Tunnel,100,\n,,Corve Hill Tunnel,many,\n`;
    const view = await viewOf(await put('traffic?name=counts.csv', faulty));
    expect(view.evidence?.traffic).toMatchObject({ name: 'counts.csv', notes: 3 });
    const { rows = 0, matched = 0 } = view.evidence?.traffic ?? {};
    // The demo has faults of its own: a road without a tunnel, a count and a share that are none.
    expect(rows).toBe(traffic.toString().trim().split('\n').length - 1);
    expect(matched).toBe(rows - 2);
    const { reasons } = (await (await app.request('/api/surveys/demo/report')).json()) as {
      reasons: { code: string }[];
    };
    expect(reasons.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['traffic-row-unmatched', 'traffic-row-unusable', 'traffic-value-ignored']),
    );

    const lines = faulty.trim().split('\n').length;
    const { traffic: told } = await reportOf();
    expect(told?.rowCount).toBe(told?.rows.length);
    expect(told?.rows).toContainEqual(
      expect.objectContaining({ line: lines - 1, code: 'traffic-row-unmatched', severity: 'warning' }),
    );
    expect(told?.rows).toContainEqual(
      expect.objectContaining({ line: lines, code: 'traffic-row-unusable', severity: 'warning' }),
    );
    expect(told?.rows.find(({ line }) => line === lines)?.detail).toContain('many');

    const after = await complexes();
    const changed = (key: 'rank' | 'misguidedPerDay') =>
      [...after].filter(([id, one]) => one[key] !== before.get(id)?.[key]).length;
    expect(changed('misguidedPerDay')).toBeGreaterThan(3);
    expect(changed('rank')).toBeGreaterThan(1);

    expect((await viewOf(await take('traffic'))).evidence).toEqual({});
    expect(await complexes()).toEqual(before);
  });
});

describe('names that are not in UTF-8', () => {
  it('are read as a spreadsheet writes them: Windows-1252, and UTF-16 with its mark', async () => {
    const text = 'name,vehicles_per_day\nZürich–Süd Tunnel,9000\n';
    const windows = Buffer.from(text.replace('–', '\u0096'), 'latin1');
    const utf16 = Buffer.from(`\uFEFF${text}`, 'utf16le');
    for (const bytes of [windows, utf16]) {
      await put('traffic', bytes);
      expect((await reportOf()).traffic?.rows).toMatchObject([
        { line: 2, code: 'traffic-row-unmatched', detail: expect.stringContaining('Zürich–Süd Tunnel') },
      ]);
    }
    await take('traffic');
  });
});

describe('a survey with both', () => {
  it('exports what they change: statuses, beacons that hang there, vehicles, order', async () => {
    const before = await exported();
    await put('traffic', traffic);
    await put('existing', beacons);
    const after = await exported();
    type Told = { name?: string; status: string; existingCount: number; vehiclesPerDay?: number };
    const told = (files: Map<string, string>, name: string) => {
      const { features } = JSON.parse(files.get('complexes.geojson') ?? '') as {
        features: { properties: Told }[];
      };
      return features.find(({ properties }) => properties.name === name)?.properties;
    };
    expect(told(before, 'Wrenlow Tunnel')).toMatchObject({ status: 'planned', existingCount: 0 });
    expect(told(after, 'Wrenlow Tunnel')).toMatchObject({
      status: 'equipped',
      existingCount: beacons.toString().match(/^AL-1/gm)?.length,
      vehiclesPerDay: 9200,
    });
    expect(told(after, 'Fold Hill Tunnel')).toMatchObject({ status: 'partly equipped' });
    expect(told(before, 'Wrenlow Tunnel')?.vehiclesPerDay).not.toBe(9200);
    for (const name of ['survey.csv', 'decisions.geojson', 'import-report.json'])
      expect(after.get(name) === before.get(name), name).toBe(name === 'decisions.geojson');
    for (const text of after.values()) expect(text).not.toMatch(/\b(NaN|-?Infinity)\b/);
    await take('traffic');
    await take('existing');
    const again = await exported();
    for (const [name, text] of before) expect(again.get(name) === text, name).toBe(true);
  });
});

describe('a long file', () => {
  it('is reported with the first rows and how many there are', async () => {
    const [, lon, lat] = (beacons.toString().split('\n')[1] ?? '').split(',');
    const rows = (place: string, letter: string, count: number) =>
      Array.from({ length: count }, (_, i) => `${place},${letter}${i}\n`).join('');
    await put('existing', `lon,lat,device_id\n${rows(`${lon},${lat}`, 'A', 700)}${rows('0,0', 'B', 600)}`);
    const { existing } = await reportOf();
    expect([existing?.matches.length, existing?.matchCount]).toEqual([500, 700]);
    expect([existing?.rows.length, existing?.rowCount]).toEqual([500, 600]);
    expect(existing?.rows[0]?.line).toBe(702);
    await take('existing');
  });

  it.each([
    ['traffic', `way,aadt\n${'1,1\n'.repeat(100_001)}`, '100000 rows'],
    ['existing', `lon,lat\n${'0,0\n'.repeat(100_001)}`, '100000 rows'],
    [
      'existing',
      JSON.stringify({ type: 'FeatureCollection', features: Array(100_001).fill(0) }),
      '100000 features',
    ],
  ])('for %s is refused above as many rows as anybody counts', async (kind, text, limit) => {
    const response = await put(kind, text);
    expect(response.status).toBe(413);
    expect(await response.json()).toMatchObject({ code: 'table-too-large', context: { limit } });
  });
});

describe('a file that is not usable', () => {
  it.each([
    ['traffic', '', 400, 'table-empty'],
    ['traffic', 'name,aadt\n', 400, 'table-empty'],
    ['traffic', 'name,aadt\n"Harbour,100\n', 400, 'table-damaged'],
    ['traffic', 'PK\u0003\u0004workbook', 415, 'table-not-text'],
    ['traffic', 'name,aadt,AADT\nA,1,2\n', 422, 'table-column-twice'],
    ['traffic', '<!DOCTYPE html><html></html>', 415, 'table-html'],
    ['traffic', 'tunnel;cars\nA;1\n', 422, 'table-columns'],
    ['existing', 'name,lon\nA,1\n', 422, 'table-columns'],
    ['existing', '', 400, 'table-empty'],
    ['existing', 'lon,lat\n\0\0', 415, 'table-not-text'],
    ['existing', '{"type":"Feature"}', 422, 'inventory-json'],
    ['existing', '{"type":"FeatureColl', 422, 'inventory-json'],
    ['existing', 'lon,lat\n700000,5100000\n', 422, 'inventory-coordinates'],
  ])('for %s, %j, changes nothing: %i %s', async (kind, text, status, code) => {
    const before = await viewOf(await app.request('/api/surveys/demo'));
    const response = await put(`${kind}?name=mine.csv`, text);
    expect(response.headers.get('content-type')).toBe('application/problem+json');
    const problem = (await response.json()) as { code: string; detail: string };
    expect([response.status, problem.code]).toEqual([status, code]);
    expect(problem.detail).toContain('mine.csv');
    expect(await viewOf(await app.request('/api/surveys/demo'))).toEqual(before);
  });

  it.each(['traffic', 'existing'])('for %s is refused above 20 MB', async (kind) => {
    const response = await put(kind, new Uint8Array(20e6 + 1).fill(65));
    expect(response.status).toBe(413);
    expect(await response.json()).toMatchObject({ code: 'request-too-large', context: { limit: '20 MB' } });
  });

  it.each(['traffic', 'existing'])('for %s: neither an unknown survey nor an endless name', async (kind) => {
    const report = await app.request('/api/surveys/none/evidence');
    for (const response of [report, await put(kind, traffic, 'none'), await take(kind, 'none')]) {
      expect(response.status).toBe(404);
      expect(await response.json()).toMatchObject({ code: 'survey-unknown' });
    }
    const named = await put(`${kind}?name=${'x'.repeat(201)}`, traffic);
    expect(await named.json()).toMatchObject({ code: 'request-invalid' });
  });
});
