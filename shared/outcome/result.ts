import type { Refusal } from './refusal.ts';

/** An answer that may be an expected "no": a Refusal is a value, a bug is thrown. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly refusal: Refusal };

/** Wraps a good answer. */
export function done<T>(value: T): Result<T> {
  return { ok: true, value };
}

/** Wraps a refusal. */
export function refused(refusal: Refusal): { readonly ok: false; readonly refusal: Refusal } {
  return { ok: false, refusal };
}
