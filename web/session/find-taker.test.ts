import { describe, expect, it } from 'vitest';
import { findTaker } from './find-taker.ts';
import type { TunnelRow } from './tunnel-row.ts';

const row = (id: string, ...osmWays: number[]) => ({ id, osmWays }) as unknown as TunnelRow;

describe('the tunnel that took in another one', () => {
  it('is the one with most of its ways, if any has one', () => {
    const gone = row('gone', 1, 2, 3);
    expect(findTaker(gone, [row('a', 3, 9), row('b', 1, 2, 8), row('c', 7)])?.id).toBe('b');
    expect(findTaker(gone, [row('c', 7)])).toBeUndefined();
  });
});
