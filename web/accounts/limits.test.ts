import { describe, expect, it } from 'vitest';
import { changePasswordSchema, newShareSchema, ROLES } from '../../shared/wire/accounts.ts';
import { accountWords } from '../account-words.ts';
import { LONGEST_SHARE_DAYS, SHORTEST_PASSWORD } from './limits.ts';

describe('what the dialogs know of the limits', () => {
  it('is what the server takes, and no more', () => {
    const takes = (length: number) =>
      changePasswordSchema.safeParse({ currentPassword: 'x', newPassword: 'x'.repeat(length) }).success;
    expect([takes(SHORTEST_PASSWORD), takes(SHORTEST_PASSWORD - 1)]).toEqual([true, false]);
    const holds = (days: number) => newShareSchema.safeParse({ label: 'x', days }).success;
    expect([holds(LONGEST_SHARE_DAYS), holds(LONGEST_SHARE_DAYS + 1)]).toEqual([true, false]);
  });

  it('lists every role in the order of what it may do', () => {
    expect(Object.keys(accountWords.roles)).toEqual([...ROLES]);
  });
});
