import { describe, expect, it } from 'vitest';
import { rebase } from './rebase.ts';
import { apply, context, empty, radius, revert, slide, spacing } from './tunnel.fixture.ts';

describe('rebase', () => {
  it('puts my edit on top of an edit of something else', () => {
    const now = apply(empty, radius('theirs-1', 60));
    const mine = spacing('mine-aaa', 50);
    const { scheme, kept, conflicts } = rebase(empty, now, [mine], context);
    expect(scheme.rules).toEqual({ coverageRadiusM: 60, spacingM: 50 });
    expect([kept, conflicts]).toEqual([[mine], []]);
  });

  it('asks about an edit of the same rule, and leaves theirs standing', () => {
    const now = apply(empty, spacing('theirs-1', 70));
    const mine = spacing('mine-aaa', 50);
    const { scheme, kept, conflicts } = rebase(empty, now, [mine], context);
    expect([scheme, kept, conflicts]).toEqual([now, [], [mine]]);
  });

  it('asks about a beacon that somebody else moved, but not about its neighbour', () => {
    const now = apply(empty, slide('theirs-1', 95, 3));
    const [same, other] = [slide('mine-aaa', 90, 3), slide('mine-bbb', 170, 5)];
    const { scheme, kept, conflicts } = rebase(empty, now, [same, other], context);
    expect([kept, conflicts]).toEqual([[other], [same]]);
    expect(scheme.pinned.map((pin) => pin.at.chainageM)).toEqual([95, 170]);
  });

  it('asks about the anchor of a beacon whose anchor somebody else changed', () => {
    const before = apply(empty, slide('moved-aa', 90));
    const beaconId = before.pinned[0]?.id ?? ('' as never);
    const set = (commandId: string, anchor: 'chainage' | 'position') =>
      ({ kind: 'setAnchor', commandId, beaconId, anchor }) as const;
    const now = apply(before, set('theirs-1', 'position'));
    const [mine, other] = [set('mine-aaa', 'chainage'), spacing('mine-bbb', 50)];
    expect(rebase(before, now, [mine, other], context)).toMatchObject({ kept: [other], conflicts: [mine] });
    expect(rebase(before, before, [mine], context).conflicts).toEqual([]);
  });

  it('is done with edits that were saved although the answer was lost', () => {
    const first = spacing('mine-aaa', 50);
    const second = spacing('mine-bbb', 55);
    const now = apply(empty, first);
    const { scheme, kept, conflicts } = rebase(empty, now, [first, second], context);
    // The rule differs from before only because of my own first edit: no conflict.
    expect([kept, conflicts]).toEqual([[second], []]);
    expect(scheme.rules.spacingM).toBe(55);
  });

  it('asks about an undo that has become void', () => {
    const before = apply(empty, spacing('edit-aaa', 50));
    const now = apply(before, revert('theirs-1', 'edit-aaa'));
    const mine = revert('mine-aaa', 'edit-aaa');
    expect(rebase(before, now, [mine], context).conflicts).toEqual([mine]);
  });
});
