import { describe, expect, it } from 'vitest';
import { createOwnCommands } from './own-commands.ts';

function makeStorage(first?: string) {
  let value = first ?? null;
  return {
    getItem: () => value,
    setItem(_: string, next: string) {
      value = next;
    },
  };
}

describe('own commands', () => {
  it('are remembered over a reload', () => {
    const storage = makeStorage();
    createOwnCommands(() => storage).add('command-1');
    const later = createOwnCommands(() => storage);
    expect([later.has('command-1'), later.has('command-2')]).toEqual([true, false]);
  });

  it('last as long as the page where storage is closed or spoilt', () => {
    const closed = createOwnCommands(() => {
      throw new Error('denied');
    });
    closed.add('command-1');
    expect(closed.has('command-1')).toBe(true);
    expect(createOwnCommands(() => makeStorage('{"not":"a list"')).has('command-1')).toBe(false);
  });
});
