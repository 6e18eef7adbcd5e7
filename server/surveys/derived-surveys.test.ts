import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { buildSurvey } from '../../shared/pipeline/build-survey.ts';
import { DEFAULT_RULES, type Rules } from '../../shared/placement/rules.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { openInMemory } from '../store/open-embedded.ts';
import type { SurveyRecord } from '../store/store.ts';
import { createDerivedSurveys } from './derived-surveys.ts';

const base = buildSurvey(
  drawPlace({
    nodes: { 1: [0, 0], 2: [400, 0] },
    ways: [{ id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes', maxspeed: '50' } }],
  }),
  'place',
);
if (!base.ok) throw new Error(base.refusal.code);
const { value } = base;

function survey(revision: number, rules: Partial<Rules>): SurveyRecord {
  return {
    ...value,
    id: 's',
    name: 'place',
    demo: false,
    createdAt: '2026-01-01T00:00:00.000Z',
    revision,
    rules: { ...DEFAULT_RULES, ...rules },
    source: { format: 'osm-xml', name: 'place.osm' },
    extractId: 'extract-1',
    log: [],
    evidence: {},
    contextGzip: new Uint8Array(),
  };
}

const count = (bytes: Uint8Array) =>
  (JSON.parse(gunzipSync(bytes).toString()) as { features: [] }).features.length;

describe('a layer', () => {
  it('is laid out once for one revision', async () => {
    const derived = createDerivedSurveys(await openInMemory());
    const first = await derived.layerGzip(survey(0, {}), 'beacons');
    expect(await derived.layerGzip(survey(0, {}), 'beacons')).toBe(first);
    expect(count(first)).toBe(11);
  });

  it('that is slow to be made is not kept for the revision that came meanwhile', async () => {
    const store = await openInMemory();
    let release = () => {};
    const released = new Promise<void>((resolve) => {
      release = resolve;
    });
    let calls = 0;
    const slowAtFirst = {
      ...store,
      listSchemes: async (id: string) => {
        calls += 1;
        if (calls === 1) await released;
        return store.listSchemes(id);
      },
    };
    const derived = createDerivedSurveys(slowAtFirst);
    const old = derived.layerGzip(survey(0, {}), 'beacons');
    // Somebody changes the spacing and asks for the layer before the first answer is ready.
    expect(count(await derived.layerGzip(survey(1, { spacingM: 80 }), 'complexes'))).toBe(1);
    release();
    expect(count(await old)).toBe(11);
    expect(count(await derived.layerGzip(survey(1, { spacingM: 80 }), 'beacons'))).toBe(6);
  });
});
