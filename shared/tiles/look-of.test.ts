import { describe, expect, it } from 'vitest';
import { lookOf } from './look-of.ts';

describe('lookOf', () => {
  it.each([
    [{ status: 'planned' }, 'planned'],
    [{ status: 'partly equipped' }, 'partly'],
    [{ status: 'equipped' }, 'equipped'],
    [{ status: 'equipped', restricted: true }, 'restricted'],
    [{ status: 'none' }, 'undesigned'],
    [{ status: 'none', kind: 'gallery' }, 'gallery'],
    [{ status: 'none', kind: 'covered', restricted: true }, 'restricted'],
  ])('gives a tunnel with %j the look %s', (properties, look) => {
    expect(lookOf({ kind: 'tunnel', restricted: false, ...properties })).toBe(look);
  });
});
