import { describe, expect, it } from 'vitest';
import type { ComplexId } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, refused } from '../../shared/outcome/result.ts';
import { buildSurvey } from '../../shared/pipeline/build-survey.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import type { Command } from '../../shared/scheme/scheme.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { createJobs } from '../jobs/jobs.ts';
import { openInMemory } from '../store/open-embedded.ts';
import { createDerivedSurveys } from './derived-surveys.ts';
import { createSurveys } from './surveys.ts';

const bore = { highway: 'primary', tunnel: 'yes', maxspeed: '50' };
const base = buildSurvey(
  drawPlace({ nodes: { 1: [0, 0], 2: [400, 0] }, ways: [{ id: 11, nodes: [1, 2], tags: bore }] }),
  'place',
);
if (!base.ok) throw new Error(base.refusal.code);
const complexId = base.value.network.complexes[0]?.id as ComplexId;
const source = { format: 'osm-xml', name: 'place.osm' };

const extract = new Uint8Array();

/** Surveys over a memory store that holds one survey, `s`. */
async function create() {
  const store = await openInMemory();
  const found = {
    ...(base as Extract<typeof base, { ok: true }>).value,
    source,
    extractId: 'extract-1',
    contextGzip: new Uint8Array(),
  };
  await store.saveSurvey(
    {
      ...found,
      id: 's',
      name: 'place',
      demo: false,
      createdAt: '2026-01-01T00:00:00.000Z',
      revision: 0,
      rules: DEFAULT_RULES,
      log: [],
      evidence: {},
    },
    extract,
  );
  const surveys = createSurveys({
    store,
    derived: createDerivedSurveys(store),
    edition: 'test',
    jobs: createJobs({ store, perform: async () => done(null), count: 0, onBug: () => {} }),
    now: () => new Date('2026-01-01T00:00:00Z'),
    runImport: async () => done({ ...found, extract }),
    runRebuild: async () => refused(refusal('input-empty')),
    runCompare: async () => refused(refusal('input-empty')),
  });
  return { store, surveys };
}

const spacing = (commandId: string): Command => ({ kind: 'setRule', commandId, rule: 'spacingM', value: 50 });
const edit = (commandId: string, baseRevision = 0) => ({ baseRevision, commands: [spacing(commandId)] });

describe('changes at the same time', () => {
  it('to the rules and to a design are both kept, whichever comes first', async () => {
    for (let lead = 0; lead < 12; lead += 1) {
      const { store, surveys } = await create();
      const change = async () => {
        for (let i = 0; i < lead; i += 1) await null;
        return surveys.change('s', { rules: { spacingM: 25 } });
      };
      await Promise.all([change(), surveys.edit('s', complexId, edit('command-1'))]);
      expect(await store.findSurvey('s')).toMatchObject({ revision: 2, rules: { spacingM: 25 } });
      expect((await store.findScheme('s', complexId))?.log).toHaveLength(1);
    }
  });

  it('do not bring back a survey that was removed meanwhile', async () => {
    for (let lead = 0; lead < 12; lead += 1) {
      const { store, surveys } = await create();
      const remove = async () => {
        for (let i = 0; i < lead; i += 1) await null;
        return surveys.remove('s');
      };
      await Promise.all([
        surveys.edit('s', complexId, edit('command-1')),
        surveys.change('s', { name: 'renamed' }),
        remove(),
      ]);
      expect(await store.listSurveys()).toEqual([]);
      expect(await store.listSchemes('s')).toEqual([]);
    }
  });
});

describe('an edit that is sent again', () => {
  it('changes nothing, not even the survey’s revision', async () => {
    const { store, surveys } = await create();
    await surveys.edit('s', complexId, edit('command-1'));
    const before = await store.findSurvey('s');
    const again = await surveys.edit('s', complexId, edit('command-1'));
    expect(again).toMatchObject({ ok: true, value: { kind: 'saved', scheme: { revision: 1 } } });
    expect(await store.findSurvey('s')).toEqual(before);
  });
});
