import { describe, expect, it } from 'vitest';
import type { Comparison } from '../../shared/wire/comparison.ts';
import type { Answer, ApiProblem } from './api.ts';
import { createComparisonSession } from './comparison-session.ts';
import type { SurveyEdit } from './survey-editor.ts';

const comparison = { extractId: 'extract-2', surveyRevision: 7 } as Comparison;
const problem = (code: string): ApiProblem => ({ code, status: 409, detail: `It is ${code}.`, context: {} });

function open() {
  const edits: [string, SurveyEdit, number | undefined][] = [];
  const server = {
    comparison: comparison as Comparison,
    adoption: undefined as ApiProblem | undefined,
    discard: { ok: true, value: undefined } as Answer<undefined>,
    refreshes: 0,
    order: [] as string[],
  };
  const session = createComparisonSession({
    api: {
      revisionComparison: async () => {
        throw new Error('not asked here');
      },
      comparison: async () => {
        server.order.push('compare');
        return { ok: true, value: server.comparison };
      },
      discardCandidate: async () => server.discard,
    },
    surveys: {
      refresh: async () => {
        server.refreshes += 1;
        return [];
      },
    },
    editor: {
      edit: async (id, edit, _, baseRevision) => {
        edits.push([id, edit, baseRevision]);
        return server.adoption;
      },
    },
    designs: { flush: async () => server.order.push('flush') },
  });
  return { session, server, edits };
}

describe('a comparison', () => {
  it('is adopted as it was looked at: its extract, its revision; edits were saved before', async () => {
    const { session, server, edits } = open();
    await session.load('city');
    expect(server.order).toEqual(['flush', 'compare']);
    expect(session.get().loaded).toEqual({ status: 'ready', value: comparison });
    expect(await session.adopt('Adopted.')).toBe(true);
    expect(edits).toEqual([['city', { kind: 'adoptExtract', extractId: 'extract-2' }, 7]]);
  });

  it('is shown anew and not adopted where somebody changed the survey meanwhile', async () => {
    const { session, server, edits } = open();
    await session.load('city');
    server.adoption = problem('revision-stale');
    server.comparison = { ...comparison, surveyRevision: 8 };
    expect(await session.adopt('Adopted.')).toBe(false);
    expect(session.get()).toMatchObject({ hasChanged: true, loaded: { value: { surveyRevision: 8 } } });
    server.adoption = undefined;
    expect(await session.adopt('Adopted.')).toBe(true);
    expect(edits.map(([, , revision]) => revision)).toEqual([7, 8]);
  });

  it('stays with the reason where it is refused', async () => {
    const { session, server } = open();
    await session.load('city');
    server.adoption = problem('candidate-unknown');
    expect(await session.adopt('Adopted.')).toBe(false);
    expect(session.get()).toMatchObject({
      isWorking: false,
      problem: { code: 'candidate-unknown' },
      loaded: { status: 'ready' },
    });
    // The candidate may be gone: the list of surveys knows.
    expect(server.refreshes).toBe(1);
    server.discard = { ok: false, problem: problem('fault') };
    expect(await session.discard()).toBe(false);
    server.discard = { ok: true, value: undefined };
    expect([await session.discard(), session.get().problem]).toEqual([true, undefined]);
  });

  it('forgets an answer that comes after the panel was left', async () => {
    const { session } = open();
    const loading = session.load('city');
    session.close();
    await loading;
    expect(session.get().loaded).toBeUndefined();
    expect(await session.adopt('Adopted.')).toBe(false);
  });
});
