import { afterEach, describe, expect, it } from 'vitest';
import type { Store, SurveyRecord } from '../../server/store/store.ts';
import type { ComplexId } from '../../shared/network/network.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';
import { listStores } from './stores.ts';

const now = () => new Date('2026-03-01T00:00:00.000Z');

const opened: Store[] = [];
afterEach(async () => {
  for (const store of opened.splice(0)) await store.close();
});

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

describe.each(listStores(now))('%s store', (_, makeOpen) => {
  it('keeps one text about a survey, for one revision and one build of the program', async () => {
    const store = await makeOpen()();
    opened.push(store);
    const record = survey('one', '2026-01-01');
    await store.saveSurvey(record, extract);
    await store.keepView(record, 'a', 'first');
    await store.keepView(record, 'a', 'second');
    expect(await store.findView(record, 'a')).toBe('second');
    expect(await store.findView(record, 'b')).toBeUndefined();
    expect(await store.findView({ ...record, revision: 1 }, 'a')).toBeUndefined();
    expect(await store.findView({ ...record, createdAt: '2026-01-02' }, 'a')).toBeUndefined();
    await store.removeSurvey('one');
    await store.keepView(record, 'a', 'late');
    await store.saveSurvey(record, extract);
    expect(await store.findView(record, 'a')).toBeUndefined();
  });

  const create = async () => {
    const store = await makeOpen()();
    opened.push(store);
    return store;
  };

  it('gives back what was saved, newest first', async () => {
    const store = await create();
    await store.saveSurvey(survey('old', '2026-01-01T00:00:00.000Z'), extract);
    await store.saveSurvey(survey('new', '2026-02-01T00:00:00.000Z'), extract);
    expect((await store.listSurveys()).map((s) => s.id)).toEqual(['new', 'old']);
    expect(await store.findSurvey('old')).toEqual(survey('old', '2026-01-01T00:00:00.000Z'));
    expect(await store.findSurvey('none')).toBeUndefined();
  });

  it('keeps a survey that is there where another one of its id is brought', async () => {
    const store = await create();
    const first = survey('a', '2026-01-01T00:00:00.000Z');
    expect(await store.saveSurvey(first, extract)).toBe(true);
    expect(await store.swapSurvey(0, { ...first, revision: 1, name: 'edited' })).toBe(true);
    const late = { ...first, name: 'late', extractId: 'extract-2' };
    expect(await store.saveSurvey(late, new Uint8Array([7]))).toBe(false);
    expect(await store.findSurvey(first.id)).toEqual({ ...first, revision: 1, name: 'edited' });
    expect(await store.findExtract('extract-2')).toBeUndefined();
  });

  it('swaps a survey only on top of the revision it was made from, and never one that is gone', async () => {
    const store = await create();
    const first = survey('a', '2026-01-01T00:00:00.000Z');
    expect(await store.swapSurvey(0, { ...first, revision: 1 })).toBe(false);
    await store.saveSurvey(first, extract);
    expect(await store.swapSurvey(0, { ...first, revision: 1, name: 'one' })).toBe(true);
    expect(await store.swapSurvey(0, { ...first, revision: 1, name: 'late' })).toBe(false);
    expect(await store.findSurvey(first.id)).toEqual({ ...first, revision: 1, name: 'one' });
  });

  it('keeps no scheme of a survey that is gone', async () => {
    const store = await create();
    expect(await store.saveScheme('a', base(0, 0), { ...makeScheme('t1' as ComplexId), revision: 1 })).toBe(
      false,
    );
    expect(await store.listSchemes('a')).toEqual([]);
  });

  it('swaps a scheme only on top of the revision it was made from', async () => {
    const store = await create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    const first = { ...makeScheme('t1' as ComplexId), revision: 1 };
    const second = { ...first, revision: 2 };
    expect(await store.saveScheme('a', base(0, 0), first)).toBe(true);
    expect(await store.saveScheme('a', base(1, 0), second)).toBe(false);
    expect(await store.findScheme('a', 't1' as ComplexId)).toEqual(first);
    expect(await store.saveScheme('a', base(1, 1), second)).toBe(true);
    expect(await store.listSchemes('a')).toEqual([second]);
  });

  it('counts a scheme’s change as one of its survey, whatever was done to other schemes meanwhile', async () => {
    const store = await create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    const [one, other] = [schemeOf('t1', 1), schemeOf('t2', 1)];
    expect(await store.saveScheme('a', base(0, 0), one)).toBe(true);
    expect((await store.findSurvey('a'))?.revision).toBe(1);
    expect(await store.saveScheme('a', base(0, 0), other)).toBe(true);
    expect((await store.findSurvey('a'))?.revision).toBe(2);
    expect(await store.listSchemes('a')).toEqual([one, other]);
  });

  it('saves no scheme on top of a survey that was itself changed', async () => {
    const store = await create();
    const first = survey('a', '2026-01-01T00:00:00.000Z');
    await store.saveSurvey(first, extract);
    expect(await store.saveScheme('a', base(0, 0), schemeOf('t1', 1))).toBe(true);
    expect(await store.swapSurvey(1, { ...first, revision: 2, name: 'renamed' })).toBe(true);
    expect(await store.saveScheme('a', base(1, 1), schemeOf('t1', 2))).toBe(false);
    expect(await store.saveScheme('a', base(0, 0), schemeOf('t2', 1))).toBe(false);
    expect((await store.findSurvey('a'))?.revision).toBe(2);
    expect(await store.saveScheme('a', base(2, 1), schemeOf('t1', 2))).toBe(true);
    expect(await store.listSchemes('a')).toEqual([schemeOf('t1', 2)]);
  });

  it('swaps a survey together with all its schemes, or neither', async () => {
    const store = await create();
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
    const store = await create();
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
    const store = await create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    await store.saveScheme('a', base(0, 0), { ...makeScheme('t1' as ComplexId), revision: 1 });
    expect(await store.removeSurvey('a')).toBe(true);
    expect(await store.removeSurvey('a')).toBe(false);
    expect(await store.listSchemes('a')).toEqual([]);
  });

  it('has everything when it is opened again', async () => {
    const open = makeOpen();
    const before = await open();
    const first = {
      ...survey('a', '2026-01-01T00:00:00.000Z'),
      evidence: {
        traffic: { name: 'counts.csv', rows: [{ line: 2, way: 7, vehiclesPerDay: 9000 }], notes: [] },
      },
      candidate: {
        extractId: 'extract-2',
        source: { format: 'osm-pbf', name: 'b.pbf' },
        contextGzip: extract,
      },
    } satisfies SurveyRecord;
    await before.saveSurvey({ ...first, candidate: undefined } as never, extract);
    expect(await before.swapSurvey(0, { ...first, revision: 1 }, { extract: new Uint8Array([7]) })).toBe(
      true,
    );
    const scheme = schemeOf('t1', 2);
    await before.saveScheme('a', base(1, 0), scheme);
    await before.close();

    const after = await open();
    opened.push(after);
    expect(await after.findSurvey(first.id)).toEqual({ ...first, revision: 2 });
    expect(await after.listSchemes('a')).toEqual([scheme]);
    expect(await after.findExtract('extract-1')).toEqual(extract);
    expect(await after.findExtract('extract-2')).toEqual(new Uint8Array([7]));
  });

  it('takes one of many edits that are made at once, and keeps the log of all that it took', async () => {
    const store = await create();
    await store.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    let taken = 0;
    const edit = async () => {
      for (let done = false; !done; ) {
        const { revision } = (await store.findSurvey('a')) as SurveyRecord;
        const kept = await store.findScheme('a', 't1' as ComplexId);
        done = await store.saveScheme(
          'a',
          base(revision, kept?.revision ?? 0),
          schemeOf('t1', (kept?.revision ?? 0) + 1),
        );
        if (done) taken += 1;
      }
    };
    await Promise.all(Array.from({ length: 12 }, edit));
    expect(taken).toBe(12);
    expect((await store.findSurvey('a'))?.revision).toBe(12);
    expect(await store.findScheme('a', 't1' as ComplexId)).toEqual(schemeOf('t1', 12));
  });

  it('goes on with a log that was carried over, and begins another one where it was not', async () => {
    const store = await create();
    const first = survey('a', '2026-01-01T00:00:00.000Z');
    await store.saveSurvey(first, extract);
    await store.saveScheme('a', base(0, 0), schemeOf('t1', 2));
    await store.saveScheme('a', base(1, 0), schemeOf('t2', 1));
    const other = {
      ...schemeOf('t2', 1),
      log: [{ kind: 'setRule', commandId: 'other', rule: 'spacingM', value: 30 }],
    };
    const schemes = [schemeOf('t1', 3), other as Scheme];
    expect(await store.swapSurvey(2, { ...first, revision: 3 }, { schemes })).toBe(true);
    expect(await store.listSchemes('a')).toEqual(schemes);
    expect(await store.saveScheme('a', base(3, 3), schemeOf('t1', 4))).toBe(true);
    expect(await store.findScheme('a', 't1' as ComplexId)).toEqual(schemeOf('t1', 4));
  });

  it('keeps the same objects for what has not changed', async () => {
    const open = makeOpen();
    const before = await open();
    await before.saveSurvey(survey('a', '2026-01-01T00:00:00.000Z'), extract);
    await before.close();
    const store = await open();
    opened.push(store);
    const read = (await store.findSurvey('a')) as SurveyRecord;
    await store.swapSurvey(0, { ...read, name: 'renamed', revision: 1 });
    expect((await store.findSurvey('a'))?.network).toBe(read.network);
    expect(await store.findSurvey('a')).toBe(await store.findSurvey('a'));
  });
});

/** A scheme after `count` edits. */
function schemeOf(complexId: string, count: number): Scheme {
  const log = Array.from({ length: count }, (_, i) => ({
    kind: 'setRule' as const,
    commandId: `${complexId}-${i}`,
    rule: 'spacingM' as const,
    value: 20 + i,
  }));
  return {
    ...makeScheme(complexId as ComplexId),
    revision: count,
    rules: { spacingM: 19 + count },
    log,
  };
}
