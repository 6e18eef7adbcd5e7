import { describe, expect, it } from 'vitest';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { findRedo, findUndo } from './history.ts';
import { apply, empty, network, radius, revert, slide, spacing } from './tunnel.fixture.ts';

const mine = () => true;
const undoOf = (scheme: Scheme, isOwn = mine as (id: string) => boolean) =>
  findUndo(scheme, network, isOwn)?.commandId;
const redoOf = (scheme: Scheme, isOwn = mine as (id: string) => boolean) =>
  findRedo(scheme, network, isOwn)?.commandId;

describe('undo and redo', () => {
  it('have nothing to do at the start', () => {
    expect([undoOf(empty), redoOf(empty)]).toEqual([undefined, undefined]);
  });

  it('walk back through the edits and forward again', () => {
    const edited = apply(empty, spacing('edit-aaa', 60), slide('edit-bbb', 90));
    expect(undoOf(edited)).toBe('edit-bbb');
    const once = apply(edited, revert('undo-bbb', 'edit-bbb'));
    expect([undoOf(once), redoOf(once)]).toEqual(['edit-aaa', 'undo-bbb']);
    const twice = apply(once, revert('undo-aaa', 'edit-aaa'));
    expect([undoOf(twice), redoOf(twice)]).toEqual([undefined, 'undo-aaa']);
    const again = apply(twice, revert('redo-aaa', 'undo-aaa'));
    expect([undoOf(again), redoOf(again)]).toEqual(['edit-aaa', 'undo-bbb']);
    const whole = apply(again, revert('redo-bbb', 'undo-bbb'));
    expect([undoOf(whole), redoOf(whole)]).toEqual(['edit-bbb', undefined]);
    expect([whole.rules, whole.pinned]).toEqual([edited.rules, edited.pinned]);
  });

  it('undo again what was redone', () => {
    const redone = apply(
      empty,
      spacing('edit-aaa', 60),
      revert('undo-aaa', 'edit-aaa'),
      revert('redo-aaa', 'undo-aaa'),
    );
    expect(undoOf(redone)).toBe('edit-aaa');
    expect(apply(redone, revert('undo-two', 'edit-aaa')).rules).toEqual({});
  });

  it('forget the redo after a new edit', () => {
    const scheme = apply(
      empty,
      spacing('edit-aaa', 60),
      revert('undo-aaa', 'edit-aaa'),
      radius('edit-bbb', 50),
    );
    expect([undoOf(scheme), redoOf(scheme)]).toEqual(['edit-bbb', undefined]);
  });

  it('leave alone what somebody else did', () => {
    const scheme = apply(empty, spacing('edit-aaa', 60), radius('theirs-1', 50));
    const isOwn = (id: string) => id.startsWith('edit');
    expect(undoOf(scheme, isOwn)).toBe('edit-aaa');
    expect(undoOf(scheme, () => false)).toBeUndefined();
  });

  it('leave alone what was carried over, and everything before it', () => {
    const edited = apply(
      empty,
      spacing('edit-aaa', 60),
      revert('undo-aaa', 'edit-aaa'),
      radius('edit-bbb', 50),
    );
    const { rules, pinned, keepOuts } = edited;
    const carry = { kind: 'carry', commandId: 'carry-aa', rules, pinned, keepOuts } as const;
    const carried = { ...edited, revision: 4, log: [...edited.log, carry] };
    expect([undoOf(carried), redoOf(carried)]).toEqual([undefined, undefined]);
    expect(undoOf(apply(carried, spacing('edit-ccc', 70)))).toBe('edit-ccc');
  });

  it('offer no undo that would trample a later edit of somebody else', () => {
    const scheme = apply(empty, spacing('edit-aaa', 60), spacing('theirs-1', 70));
    expect(undoOf(scheme, (id) => id.startsWith('edit'))).toBeUndefined();
  });

  it('keep my redo although somebody else edited something else meanwhile', () => {
    const isOwn = (id: string) => !id.startsWith('theirs');
    const scheme = apply(
      empty,
      spacing('edit-aaa', 60),
      revert('undo-aaa', 'edit-aaa'),
      radius('theirs-1', 50),
    );
    expect(redoOf(scheme, isOwn)).toBe('undo-aaa');
  });
});
