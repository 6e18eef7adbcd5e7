import { randomInt } from 'node:crypto';
import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';

/** NIST SP 800-63B, 3.1.1.2: length is what counts; no rules for kinds of characters. Lengths: ours, from memory. */
export const SHORTEST_PASSWORD = 12;
export const LONGEST_PASSWORD = 256;
const FEWEST_CHARACTERS = 5;

/** `password-weak` where a new password is short, of few different characters, or holds what everybody knows. */
export function checkPassword(password: string, email: string): Refusal | undefined {
  const plain = password.toLowerCase();
  const known = [email, email.split('@')[0] ?? '', 'boremark', '123456789', 'password'].filter(
    ({ length }) => length >= 4,
  );
  const isWeak =
    password.length < SHORTEST_PASSWORD ||
    password.length > LONGEST_PASSWORD ||
    new Set(plain).size < FEWEST_CHARACTERS ||
    known.some((word) => plain.includes(word.toLowerCase()));
  return isWeak ? refusal('password-weak') : undefined;
}

/** Without letters and digits that are taken for each other. */
const LETTERS = 'abcdefghjkmnpqrstuvwxyz23456789';

/** A password to hand over: 20 characters in groups, 99 bits. */
export function makePassword(): string {
  const group = () => Array.from({ length: 5 }, () => LETTERS[randomInt(LETTERS.length)]).join('');
  return Array.from({ length: 4 }, group).join('-');
}
