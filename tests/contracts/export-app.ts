import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pino } from 'pino';
import { createApp } from '../../server/app.ts';
import { openInMemory } from '../../server/store/open-embedded.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { buildSurvey } from '../../shared/pipeline/build-survey.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { drawPlace } from '../places/draw-place.ts';

const demo = join(import.meta.dirname, '../../data/demo/aldermouth.osm');

/** A name that a spreadsheet, an XML reader, a web page and a file system could each misread. */
export const HOSTILE = `=cmd()|'/C calc'!A0 <script>alert("1")</script> & ../../x`;

/** The application with the demo city as `demo`, and as `s` a tunnel and a survey with a hostile name. */
export async function openExportApp() {
  const store = await openInMemory();
  const base = buildSurvey(
    drawPlace({
      nodes: { 1: [0, 0], 2: [400, 0], 3: [500, 0] },
      ways: [
        {
          id: 11,
          nodes: [1, 2],
          tags: { highway: 'primary', tunnel: 'yes', maxspeed: '50', name: HOSTILE, 'tunnel:name': HOSTILE },
        },
        { id: 12, nodes: [2, 3], tags: { highway: 'primary' } },
      ],
    }),
    'place',
  );
  if (!base.ok) throw new Error(base.refusal.code);
  await store.saveSurvey(
    {
      ...base.value,
      id: 's',
      name: HOSTILE,
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
    uploadLimitBytes: 50e6,
    version: '0.0.0',
    now: () => new Date('2026-01-01T00:00:00Z'),
  });
  const form = new FormData();
  form.set('file', new File([readFileSync(demo)], 'aldermouth.osm'));
  const started = await app.request('/api/surveys', { method: 'POST', body: form });
  const { id } = (await started.json()) as SurveyView;
  await (await app.request(`/api/surveys/${id}/events`)).text();
  return { app, demoId: id };
}

/** GDAL is a reader that is not ours; CI has to have it, elsewhere its absence is said. */
export const hasGdal = spawnSync('ogrinfo', ['--version']).status === 0;
if (!hasGdal) {
  if (process.env.CI) throw new Error('CI must have ogrinfo (gdal-bin)');
  console.warn('No ogrinfo was found: what GDAL makes of the exports is not tested. Install gdal-bin.');
}

export type Read = {
  readonly id?: unknown;
  readonly geometry: { readonly type: string; readonly coordinates: unknown };
  readonly properties: Readonly<Record<string, unknown>>;
};

/** A layer of a file as GDAL reads it. */
export function readByGdal(path: string, layer?: string): readonly Read[] {
  const given = ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=9', '/vsistdout/', path];
  const text = execFileSync('ogr2ogr', layer === undefined ? given : [...given, layer], {
    encoding: 'utf8',
    maxBuffer: 256e6,
  });
  return (JSON.parse(text) as { features: Read[] }).features;
}

/** What GDAL says of a file and its layers. */
export function describeByGdal(path: string, ...more: readonly string[]): string {
  return execFileSync('ogrinfo', [...more, path], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}
