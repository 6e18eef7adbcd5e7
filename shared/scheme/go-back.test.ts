import { describe, expect, it } from 'vitest';
import type { ComplexId } from '../network/network.ts';
import { replay } from './apply-command.ts';
import { goBackSchemes } from './go-back.ts';
import { type LogEntry, makeScheme, type Scheme } from './scheme.ts';
import { type HandOverride, listOverrides, type SurveyLogEntry } from './survey-log.ts';

const rule = (commandId: string, value: number): LogEntry => ({
  kind: 'setRule',
  commandId,
  rule: 'spacingM',
  value,
});
const schemeOf = (id: string, ...log: LogEntry[]): Scheme => ({
  ...makeScheme(id as ComplexId),
  revision: log.length,
  ...replay(log),
  log,
});

describe('designs that are again what they were', () => {
  it('get one line more that holds the content of then, and nothing is lost of what was done', () => {
    const then = [schemeOf('a', rule('1', 30))];
    const now = [schemeOf('a', rule('1', 30), rule('2', 50))];
    const [scheme] = goBackSchemes(now, then, 'back');
    expect(scheme?.rules).toEqual({ spacingM: 30 });
    expect(scheme?.revision).toBe(3);
    expect(scheme?.log.map(({ commandId }) => commandId)).toEqual(['1', '2', 'back']);
  });

  it('are emptied where there was none, stay where they are the same, and come back where they are gone', () => {
    const solution = { method: 'fewest', question: 'q', places: [], isProven: true, bound: 0 } as never;
    const solved = schemeOf('c', { kind: 'acceptSolution', commandId: '9', solution });
    const same = schemeOf('b', rule('1', 30));
    const after = goBackSchemes([schemeOf('a', rule('1', 30)), same], [same, solved], 'back');
    expect(after.map(({ complexId }) => complexId)).toEqual(['a', 'b', 'c']);
    expect(after[0]?.rules).toEqual({});
    expect(after[1]).toBe(same);
    expect(after[2]).toMatchObject({ revision: 1, solution });
    // Going back twice changes nothing more.
    expect(goBackSchemes(after, [same, solved], 'again')).toEqual(after);
  });
});

describe('words by hand after going back', () => {
  const join = (commandId: string, one: number): SurveyLogEntry => ({
    kind: 'join',
    commandId,
    ways: [one, one + 1],
  });
  const idsOf = (log: readonly SurveyLogEntry[]) => listOverrides(log).map(({ commandId }) => commandId);

  it('are those of then and what was said since; each can be taken back and given back', () => {
    const first = [join('1', 1), join('2', 5)];
    const back: SurveyLogEntry = {
      kind: 'goBack',
      commandId: 'back',
      toRevision: 1,
      overrides: listOverrides(first.slice(0, 1)) as readonly HandOverride[],
    };
    const log = [...first, back, join('3', 9)];
    expect(idsOf(log)).toEqual(['1', '3']);
    const taken: SurveyLogEntry = { kind: 'revert', commandId: '4', revertedId: '1' };
    expect(idsOf([...log, taken])).toEqual(['3']);
    expect(idsOf([...log, taken, { kind: 'revert', commandId: '5', revertedId: '4' }])).toEqual(['1', '3']);
  });
});
