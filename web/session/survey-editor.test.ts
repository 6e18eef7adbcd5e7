import { describe, expect, it, vi } from 'vitest';
import type { SurveyView } from '../../shared/wire/survey.ts';
import type { SurveyCommand } from './api.ts';
import { createSurveyEditor } from './survey-editor.ts';
import type { TunnelRow } from './tunnel-row.ts';

const survey = { id: 'city', revision: 4 } as SurveyView;
const row = (id: string, ...osmWays: number[]) => ({ id, osmWays }) as unknown as TunnelRow;

/** A server of one survey, the page's view of it, and what was done in which order. */
function open(before: readonly TunnelRow[], after: readonly TunnelRow[], tunnel?: string) {
  const done: string[] = [];
  const sent: [number, SurveyCommand][] = [];
  const server = { revision: 4, refusal: undefined as string | undefined, staleTimes: 0 };
  let known = survey;
  let rows = before;
  const showTunnel = vi.fn();
  const editor = createSurveyEditor({
    api: {
      goBack: async (_, revision, { baseRevision }) => {
        done.push(`back to ${revision} from ${baseRevision}`);
        if (baseRevision !== server.revision) return problem('revision-stale', 409);
        server.revision += 1;
        return { ok: true, value: { ...survey, revision: server.revision } };
      },
      editSurvey: async (_, baseRevision, command) => {
        done.push('send');
        sent.push([baseRevision, command]);
        if (server.staleTimes > 0) {
          server.staleTimes -= 1;
          server.revision += 1;
          return problem('revision-stale', 409);
        }
        if (server.refusal !== undefined) return problem(server.refusal, 400);
        if (baseRevision !== server.revision) return problem('revision-stale', 409);
        server.revision += 1;
        return { ok: true, value: { ...survey, revision: server.revision } };
      },
    },
    surveys: {
      find: () => known,
      refresh: async () => {
        known = { ...survey, revision: server.revision };
        return [known];
      },
      accept: async () => {
        done.push('accept');
        rows = after;
      },
      rows: () => rows,
    },
    designs: {
      flush: async () => done.push('flush'),
      reloadCurrent: async () => void done.push('reload'),
    },
    makeId: () => 'command-1',
    findOpenTunnel: () => tunnel,
    showTunnel,
  });
  return { editor, server, sent, done, showTunnel };
}

function problem(code: string, status: number) {
  return { ok: false as const, problem: { code, status, detail: `It is ${code}.`, context: {} } };
}

const split = { kind: 'split', ways: [1, 2] as [number, number] } as const;

describe('going back', () => {
  it('saves designs first, is asked for on top of the survey as it is, and tells what was done', async () => {
    const { editor, done, server } = open([row('a', 1)], [row('a', 1)], 'a');
    // Somebody was here since the page has read the survey.
    server.revision = 9;
    const first = editor.goBack('city', 3, 'As it was.');
    expect(await editor.goBack('city', 2, 'As it was.')).toBe('busy');
    expect(await first).toBeUndefined();
    expect(done).toEqual(['flush', 'back to 3 from 9', 'accept', 'reload']);
    expect(editor.get()).toEqual({
      isWorking: false,
      done: { surveyId: 'city', says: 'As it was.', undoId: undefined },
    });
  });
});

describe('an edit of the survey', () => {
  it('saves designs first, then shows the layers and the open tunnel as they are now', async () => {
    const { editor, done, sent, showTunnel } = open([row('a', 1, 2)], [row('a', 1), row('b', 2)], 'a');
    expect(await editor.edit('city', split, 'Split.')).toBeUndefined();
    expect(done).toEqual(['flush', 'send', 'accept', 'reload']);
    expect(sent).toEqual([[4, { ...split, commandId: 'command-1' }]]);
    expect(showTunnel).not.toHaveBeenCalled();
    expect(editor.get()).toEqual({
      isWorking: false,
      done: { surveyId: 'city', says: 'Split.', undoId: 'command-1' },
    });
  });

  it('goes to the tunnel that took in the open one, or back to the table', async () => {
    const joined = open([row('a', 1), row('b', 2)], [row('b', 1, 2), row('c', 9)], 'a');
    await joined.editor.edit('city', { kind: 'join', ways: [1, 2] }, 'Joined.');
    expect(joined.showTunnel).toHaveBeenCalledWith('b');
    expect(joined.done).not.toContain('reload');
    const gone = open([row('a', 1)], [row('c', 9)], 'a');
    await gone.editor.edit('city', { kind: 'revert', revertedId: 'command-0' }, 'Undone.');
    expect(gone.showTunnel).toHaveBeenCalledWith(undefined);
    // An undo is not undone by its own notice.
    expect(gone.editor.get().done?.undoId).toBeUndefined();
  });

  it('is sent again on top of what somebody else changed, but not for ever', async () => {
    const once = open([], []);
    once.server.staleTimes = 1;
    expect(await once.editor.edit('city', split, 'Split.')).toBeUndefined();
    expect(once.sent.map(([revision]) => revision)).toEqual([4, 5]);
    // One command, whatever happened to its first answer.
    expect(new Set(once.sent.map(([, command]) => command.commandId)).size).toBe(1);
    const always = open([], []);
    always.server.staleTimes = 10;
    expect(await always.editor.edit('city', split, 'Split.')).toMatchObject({ code: 'revision-stale' });
    expect(always.sent).toHaveLength(3);
  });

  it('holds only for the survey that was looked at, where a revision is given', async () => {
    const { editor, sent, done } = open([], []);
    const said = await editor.edit('city', { kind: 'adoptExtract', extractId: 'e' }, 'Adopted.', 3);
    expect(said).toMatchObject({ code: 'revision-stale' });
    expect(sent).toHaveLength(1);
    expect(done).not.toContain('accept');
    expect(editor.get()).toEqual({ isWorking: false, done: undefined });
  });

  it('tells a refusal, and does one thing at a time', async () => {
    const { editor, server, sent } = open([], []);
    server.refusal = 'bores-connected';
    const first = editor.edit('city', split, 'Split.');
    expect(await editor.edit('city', split, 'Split.')).toBe('busy');
    expect(await first).toMatchObject({ code: 'bores-connected', detail: 'It is bores-connected.' });
    expect(sent).toHaveLength(1);
  });
});
