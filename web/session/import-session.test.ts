import { describe, expect, it, vi } from 'vitest';
import type { SurveyView } from '../../shared/wire/survey.ts';
import type { Answer } from './api.ts';
import { createImportSession, type Events } from './import-session.ts';

const working: SurveyView = {
  id: 'survey-1',
  name: 'harbour',
  status: 'working',
  demo: false,
  createdAt: '2026-01-01T00:00:00Z',
  revision: 0,
  rules: {},
};
const ready: SurveyView = { ...working, status: 'ready' };
const refused: SurveyView = {
  ...working,
  status: 'refused',
  refusal: { code: 'input-html', context: {}, detail: 'harbour is a web page.' },
};
const unreachable = {
  ok: false as const,
  problem: { code: 'unreachable', status: 0, detail: 'Away.', context: {} },
};

function open(overrides: { upload?: Promise<Answer<SurveyView>>; find?: () => Answer<SurveyView> } = {}) {
  const target = new EventTarget();
  const close = vi.fn();
  const events = { addEventListener: target.addEventListener.bind(target), close } as unknown as Events;
  const removed: string[] = [];
  const onReady = vi.fn();
  const session = createImportSession({
    api: {
      startUpload: async () => overrides.upload ?? { ok: true, value: working },
      startArea: async () => ({ ok: true, value: working }),
      removeSurvey: async (id) => {
        removed.push(id);
        return { ok: true, value: undefined };
      },
      findSurvey: async () => overrides.find?.() ?? { ok: true, value: working },
      eventsUrl: (id) => `/events/${id}`,
    },
    openEvents: () => events,
    onReady,
    onChange: () => {},
  });
  const say = (kind: string, data?: unknown) =>
    target.dispatchEvent(new MessageEvent(kind, { data: JSON.stringify(data) }));
  return {
    session,
    say,
    close,
    removed,
    onReady,
    start: () => session.startFile(new File(['x'], 'harbour.osm')),
  };
}

const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

describe('an import', () => {
  it('goes from sending over its stages to ready', async () => {
    const { session, say, close, onReady, start } = open();
    const started = start();
    expect(session.get()).toEqual({ phase: 'sending', name: 'harbour.osm' });
    await started;
    say('progress', { stage: 'reading', done: 5, total: 10 });
    expect(session.get()).toMatchObject({ phase: 'working', progress: { stage: 'reading', done: 5 } });
    say('ready', ready);
    expect(session.get()).toMatchObject({ phase: 'ready', survey: { id: 'survey-1' } });
    expect(onReady).toHaveBeenCalledOnce();
    expect(close).toHaveBeenCalled();
  });

  it('keeps the sentence of a refusal until it is dismissed', async () => {
    const { session, say, onReady, start } = open();
    await start();
    say('refused', refused);
    expect(session.get()).toEqual({
      phase: 'refused',
      name: 'harbour',
      detail: 'harbour is a web page.',
      code: refused.refusal?.code,
    });
    expect(onReady).not.toHaveBeenCalled();
    session.dismiss();
    expect(session.get()).toEqual({ phase: 'idle' });
  });

  it('tells when nothing could be sent', async () => {
    const { session, start } = open({ upload: Promise.resolve(unreachable) });
    await start();
    expect(session.get()).toEqual({
      phase: 'refused',
      name: 'harbour.osm',
      detail: 'Away.',
      code: 'unreachable',
    });
  });

  it('is removed on the server when it is cancelled, also while it is being sent', async () => {
    const { session, removed, start } = open();
    await start();
    await session.cancel();
    expect([session.get(), removed]).toEqual([{ phase: 'idle' }, ['survey-1']]);

    let arrive: (answer: Answer<SurveyView>) => void = () => {};
    const slow = open({ upload: new Promise((resolve) => (arrive = resolve)) });
    const started = slow.start();
    await slow.session.cancel();
    arrive({ ok: true, value: working });
    await started;
    expect([slow.session.get(), slow.removed]).toEqual([{ phase: 'idle' }, ['survey-1']]);
  });

  it('asks the survey itself where its events break off', async () => {
    const ended = open({ find: () => ({ ok: true, value: ready }) });
    await ended.start();
    ended.say('error');
    await settle();
    expect(ended.session.get().phase).toBe('ready');

    const away = open({ find: () => unreachable });
    await away.start();
    away.say('error');
    await settle();
    expect(away.session.get().phase).toBe('working');
  });

  it('waits for a sign-in where the session has ended, and follows on after it', async () => {
    const problem = { code: 'sign-in-needed', status: 401, detail: 'Sign in first.', context: {} };
    const { session, say, close, start } = open({ find: () => ({ ok: false, problem }) });
    await start();
    say('error');
    await settle();
    expect([session.get().phase, close.mock.calls.length]).toEqual(['working', 0]);
    session.again();
    expect([session.get().phase, close.mock.calls.length]).toEqual(['working', 1]);
    say('ready', ready);
    expect(session.get().phase).toBe('ready');
  });
});
