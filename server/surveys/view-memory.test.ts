import { describe, expect, it } from 'vitest';
import type { SurveyRecord } from '../store/store.ts';
import { createViewMemory, type KeptView } from './view-memory.ts';

const record = (revision: number) =>
  ({ id: 's', createdAt: '2026-01-01', revision, name: `at ${revision}` }) as SurveyRecord;

function create() {
  let now = 0;
  const kept: string[] = [];
  const texts = new Map<string, string>();
  const made: number[] = [];
  const read: number[] = [];
  let current = record(0);
  let replaced = () => {};
  const store = {
    findSurvey: async () => {
      read.push(current.revision);
      return current;
    },
    findView: async ({ revision }: { revision: number }, edition: string) =>
      texts.get(`${revision} ${edition}`),
    keepView: async ({ revision }: { revision: number }, edition: string, text: string) => {
      kept.push(text);
      texts.set(`${revision} ${edition}`, text);
    },
    onReplaced: (listener: () => void) => {
      replaced = listener;
    },
  };
  const open = (edition: string) =>
    createViewMemory({ store, now: () => new Date(now), edition }, async ({ id, name, revision }) => {
      made.push(revision);
      return { id, name, revision } as KeptView;
    });
  return {
    open,
    made,
    kept,
    read,
    to: (revision: number) => {
      current = record(revision);
    },
    later: (ms: number) => {
      now += ms;
    },
    replace: () => replaced(),
  };
}

describe('how surveys are told', () => {
  it('is made once for a revision, here and after the next start', async () => {
    const { open, made, read } = create();
    const memory = open('a');
    expect(await memory.find(record(0))).toMatchObject({ name: 'at 0' });
    await memory.tell(record(0));
    expect(await open('a').find(record(0))).toMatchObject({ name: 'at 0' });
    expect([made, read]).toEqual([[0], [0]]);
  });

  it('is made anew at another revision, by another build, and after a restore', async () => {
    const { open, made, to, replace } = create();
    const memory = open('a');
    await memory.find(record(0));
    to(1);
    expect(await memory.find(record(1))).toMatchObject({ name: 'at 1' });
    await open('b').find(record(1));
    expect(made).toEqual([0, 1, 1]);
    const last = open('c');
    await last.tell(record(1));
    replace();
    await last.tell(record(1));
    expect(made).toEqual([0, 1, 1, 1, 1]);
  });

  it('is kept now and then while people edit, not at every edit', async () => {
    const { open, kept, later } = create();
    const memory = open('a');
    for (let revision = 0; revision < 100; revision += 1) {
      await memory.tell(record(revision));
      later(1000);
    }
    expect(kept).toHaveLength(2);
  });
});
