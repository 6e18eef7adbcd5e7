import { describe, expect, it } from 'vitest';
import { checkPassword, makePassword } from './check-password.ts';

describe('a new password', () => {
  it.each(['a tunnel at night', 'correct horse battery', 'ünïcödé wörds äre good', 'q7!mL0#xR2$z'])(
    'may be %s',
    (password) => {
      expect(checkPassword(password, 'planner@example.org')).toBeUndefined();
    },
  );

  it.each([
    ['short', 'eleven char'],
    ['long', 'tunnel lamp '.repeat(22)],
    ['of few characters', 'abababababababab'],
    ['the account’s own name', 'Planner 2026 !?'],
    ['what everybody tries', 'my-Password-2026'],
  ])('is refused where it is %s', (_, password) => {
    expect(checkPassword(password, 'planner@example.org')).toMatchObject({ code: 'password-weak' });
  });

  it('of ours is good, and another one each time', () => {
    const made = Array.from({ length: 200 }, makePassword);
    expect(new Set(made).size).toBe(200);
    for (const password of made) {
      expect(password).toMatch(/^([a-hjkmnp-z2-9]{5}-){3}[a-hjkmnp-z2-9]{5}$/);
      expect(checkPassword(password, 'planner@example.org')).toBeUndefined();
    }
  });
});
