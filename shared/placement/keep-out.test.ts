import { expect, it } from 'vitest';
import type { LinkId } from '../network/network.ts';
import { type KeepOut, listKeptOut, makeKeptOut } from './keep-out.ts';

it('answers many questions from one look at thousands of keep-outs', () => {
  const link = { id: 'a' as LinkId, lengthM: 20_000 };
  let looks = 0;
  const keepOuts = Array.from({ length: 1000 }, (_, i): KeepOut => {
    const kept = { id: `k${i}`, fromM: 20 * i, toM: 20 * i + 5, wall: 'left', reason: '' } as const;
    return Object.defineProperty({ ...kept, linkId: link.id }, 'linkId', {
      get: () => {
        looks += 1;
        return link.id;
      },
    });
  });
  const keptOut = makeKeptOut(keepOuts);
  for (let i = 0; i < 50; i += 1) keptOut(link, 'left');
  expect(looks).toBe(1000);
  expect(keptOut(link, 'left')).toEqual(listKeptOut(keepOuts, link, 'left'));
  expect(keptOut(link, 'right')).toEqual([]);
});
