import { describe, expect, it } from 'vitest';
import type { KeepOut } from '../placement/keep-out.ts';
import { stand } from './lay-plain.fixture.ts';
import { listKeptOutDepths } from './measure-keep-outs.ts';
import { drawNetwork } from './network.fixture.ts';

const { links } = drawNetwork({ 1: [0, 0], 2: [400, 0] }, [[1, 2]]);
const [link] = links;
const linkId = link?.id as never;
const keepOut = (fromM: number, toM: number, wall: KeepOut['wall'] = 'right'): KeepOut => ({
  id: `${fromM}`,
  linkId,
  fromM,
  toM,
  wall,
  reason: 'fan',
});
const depths = (keepOuts: readonly KeepOut[], ...beacons: readonly ReturnType<typeof stand>[]) =>
  listKeptOutDepths(links, beacons, keepOuts).map(({ found }) => found);

describe('beacons inside a keep-out', () => {
  it('are so by the way to its nearer end', () => {
    const beacons = [100, 103, 118, 120, 200].map((m) => stand(`b${m}`, linkId, m));
    expect(depths([keepOut(100, 120)], ...beacons)).toEqual([0, 3, 2, 0, 0]);
    // Two that touch are one.
    expect(depths([keepOut(100, 120), keepOut(120, 130)], stand('b', linkId, 118))).toEqual([12]);
  });

  it('are so only on its own wall', () => {
    const beacons = [stand('l', linkId, 110, 'left'), stand('r', linkId, 110, 'right')];
    expect(depths([keepOut(100, 120, 'left')], ...beacons)).toEqual([10, 0]);
    expect(depths([keepOut(100, 120, 'both')], ...beacons)).toEqual([10, 10]);
  });

  it('are so at a portal that it reaches, up to its end inside', () => {
    expect(depths([keepOut(0, 8)], stand('b', linkId, 0))).toEqual([8]);
  });

  it('cannot be without a keep-out', () => {
    expect(listKeptOutDepths(links, [stand('b', linkId, 110)], [])).toEqual([]);
  });
});
