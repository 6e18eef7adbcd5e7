import { describe, expect, it } from 'vitest';
import { createMemoryStore } from '../../server/store/memory-store.ts';
import type { Store, SurveyRecord } from '../../server/store/store.ts';
import type { ComplexId } from '../../shared/network/network.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';

/** Every store must pass; one that needs a server of its own joins the list with how to get it. */
const STORES: readonly (readonly [string, () => Store])[] = [['memory', createMemoryStore]];

function survey(id: string, createdAt: string): SurveyRecord {
  return {
    id,
    name: id,
    demo: false,
    createdAt,
    revision: 0,
    rules: DEFAULT_RULES,
    source: { format: 'osm-xml', name: 'a.osm' },
    extractId: 'extract-1',
    log: [],
    evidence: {},
    ways: 1,
    tunnelWays: 1,
    network: { links: [], complexes: [] },
    findings: [],
    contextGzip: new Uint8Array([1, 2, 3]),
  };
}

const extract = new Uint8Array([4, 5, 6]);
const base = (surveyRevision: number, scheme: number) => ({ survey: surveyRevision, scheme });

describe.each(STORES)('%s store', (_, create) => {
  it('gives back what was saved, newest first', async () => {
    const store = create();
    await store.saveSurvey(survey('old', '2026-01-01T00:00:00.000Z'), extract);
    await store.saveSurvey(survey('new', '2026-02-01T00:00:00.000Z'), extract);
    expect((await store.listSurveys()).map((s) => s.id)).toEqual(['new', 'old']);
    expect(await store.findSurvey('old')).toEqual(survey('old', '2026-01-01T00:00:00.000Z'));
    expect(await store.findSurvey('none')).toBeUndefined();
  });

  it('replaces a survey of the same id', async () => {
    const store = create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    await store.saveSurvey({ ...survey('a', '2026-01-01T00:00:00.000Z'), name: 'renamed' }, extract);
    expect((await store.listSurveys()).map((s) => s.name)).toEqual(['renamed']);
  });

  it('swaps a survey only on top of the revision it was made from, and never one that is gone', async () => {
    const store = create();
    const first = survey('a', '2026-01-01T00:00:00.000Z');
    expect(await store.swapSurvey(0, { ...first, revision: 1 })).toBe(false);
    await store.saveSurvey(first, extract);
    expect(await store.swapSurvey(0, { ...first, revision: 1, name: 'one' })).toBe(true);
    expect(await store.swapSurvey(0, { ...first, revision: 1, name: 'late' })).toBe(false);
    expect(await store.listSurveys()).toEqual([{ ...first, revision: 1, name: 'one' }]);
  });

  it('keeps no scheme of a survey that is gone', async () => {
    const store = create();
    expect(await store.saveScheme('a', base(0, 0), { ...makeScheme('t1' as ComplexId), revision: 1 })).toBe(
      false,
    );
    expect(await store.listSchemes('a')).toEqual([]);
  });

  it('swaps a scheme only on top of the revision it was made from', async () => {
    const store = create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    const first = { ...makeScheme('t1' as ComplexId), revision: 1 };
    const second = { ...first, revision: 2 };
    expect(await store.saveScheme('a', base(0, 0), first)).toBe(true);
    expect(await store.saveScheme('a', base(1, 0), second)).toBe(false);
    expect(await store.findScheme('a', 't1' as ComplexId)).toEqual(first);
    expect(await store.saveScheme('a', base(1, 1), second)).toBe(true);
    expect(await store.listSchemes('a')).toEqual([second]);
  });

  it('counts a scheme’s change as one of its survey, and saves none on top of an older survey', async () => {
    const store = create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    const [one, other] = ['t1', 't2'].map((id) => ({ ...makeScheme(id as ComplexId), revision: 1 }));
    expect(await store.saveScheme('a', base(0, 0), one as Scheme)).toBe(true);
    expect((await store.findSurvey('a'))?.revision).toBe(1);
    expect(await store.saveScheme('a', base(0, 0), other as Scheme)).toBe(false);
    expect(await store.listSchemes('a')).toEqual([one]);
    expect((await store.findSurvey('a'))?.revision).toBe(1);
  });

  it('swaps a survey together with all its schemes, or neither', async () => {
    const store = create();
    const first = survey('a', '2026-01-01T00:00:00.000Z');
    await store.saveSurvey(first, extract);
    await store.saveScheme('a', base(0, 0), { ...makeScheme('t1' as ComplexId), revision: 1 });
    const schemes = [{ ...makeScheme('t2' as ComplexId), revision: 1 }];
    expect(await store.swapSurvey(0, { ...first, revision: 2 }, { schemes })).toBe(false);
    expect((await store.listSchemes('a')).map(({ complexId }) => complexId)).toEqual(['t1']);
    expect(await store.swapSurvey(1, { ...first, revision: 2 }, { schemes })).toBe(true);
    expect(await store.listSchemes('a')).toEqual(schemes);
  });

  it('keeps an extract as long as a survey names it, as its own or as its candidate', async () => {
    const store = create();
    const first = survey('a', '2026-01-01T00:00:00.000Z');
    const newer = new Uint8Array([7, 7]);
    const candidate = { extractId: 'extract-2', source: first.source, contextGzip: new Uint8Array() };
    await store.saveSurvey(first, extract);
    await store.saveSurvey(survey('b', '2026-01-01T00:00:00.000Z'), extract);
    expect(await store.swapSurvey(0, { ...first, revision: 1, candidate }, { extract: newer })).toBe(true);
    expect(await store.findExtract('extract-1')).toEqual(extract);
    expect(await store.findExtract('extract-2')).toEqual(newer);
    await store.removeSurvey('a');
    expect(await store.findExtract('extract-1')).toEqual(extract);
    expect(await store.findExtract('extract-2')).toBeUndefined();
    await store.removeSurvey('b');
    expect(await store.findExtract('extract-1')).toBeUndefined();
  });

  it('removes a survey with its schemes', async () => {
    const store = create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    await store.saveScheme('a', base(0, 0), { ...makeScheme('t1' as ComplexId), revision: 1 });
    expect(await store.removeSurvey('a')).toBe(true);
    expect(await store.removeSurvey('a')).toBe(false);
    expect(await store.listSchemes('a')).toEqual([]);
  });
});
