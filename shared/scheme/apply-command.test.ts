import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { LinkId } from '../network/network.ts';
import { listComplexNetworks } from '../pipeline/build-survey.ts';
import { makeCommandContext } from '../pipeline/make-command-context.ts';
import type { BeaconId, Wall } from '../placement/beacon.ts';
import type { KeepOut } from '../placement/keep-out.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { applyCommand, MAX_LOG } from './apply-command.ts';
import { type Command, makeScheme, type Scheme } from './scheme.ts';

const extract = drawPlace({
  nodes: { 1: [0, 0], 2: [400, 0] },
  ways: [{ id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes', maxspeed: '50' } }],
});
const [network] = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
if (network === undefined) throw new Error('no tunnel');
const linkId = network.links[0]?.id as LinkId;
const context = makeCommandContext(network, DEFAULT_RULES);
const empty = makeScheme(network.complex.id);

let counter = 0;
const id = () => {
  counter += 1;
  return `command-${counter}`;
};
const spacing = (value: number | null): Command => ({
  kind: 'setRule',
  commandId: id(),
  rule: 'spacingM',
  value,
});
const slide = (chainageM: number, beaconId = `${linkId}.3`): Command => ({
  kind: 'slideBeacon',
  commandId: id(),
  beaconId: beaconId as BeaconId,
  to: { linkId, chainageM },
  anchor: 'chainage',
});
const third = `${linkId}.3` as BeaconId;
const setRadius = (
  radiusM: number | null,
  chainageM = 80,
  wall: Wall = 'right',
  beaconId = third,
): Command => ({
  kind: 'setRadius',
  commandId: id(),
  beaconId,
  at: { linkId, chainageM },
  wall,
  radiusM,
});
const keepOut = (part: Partial<KeepOut> = {}): Command => ({
  kind: 'addKeepOut',
  commandId: id(),
  keepOut: { id: 'keep-out-1', linkId, fromM: 78, toM: 82, wall: 'right', reason: 'door', ...part },
});
const removeKeepOut = (keepOutId = 'keep-out-1'): Command => ({
  kind: 'removeKeepOut',
  commandId: id(),
  keepOutId,
});
const accept = (chainageM = 10, on = linkId): Command => ({
  kind: 'acceptSolution',
  commandId: id(),
  solution: { key: 'question', places: [{ linkId: on, chainageM, wall: 'right' }], bound: 1 },
});
const dropSolution = (): Command => ({ kind: 'acceptSolution', commandId: id(), solution: null });
const choose = (rule: 'side' | 'method' | 'spacingM', value: string | number | null): Command => ({
  kind: 'setRule',
  commandId: id(),
  rule,
  value,
});
const revert = (revertedId: string): Command => ({ kind: 'revert', commandId: id(), revertedId });

function apply(scheme: Scheme, ...commands: Command[]): Scheme {
  return commands.reduce((before, command) => {
    const result = applyCommand(before, command, context);
    if (!result.ok) throw new Error(result.refusal.code);
    return result.value;
  }, scheme);
}

function refusalOf(scheme: Scheme, command: Command): string {
  const result = applyCommand(scheme, command, context);
  return result.ok ? 'accepted' : result.refusal.code;
}

/** What a scheme says, without how it came to say it. */
function content({ rules, pinned, keepOuts, solution }: Scheme) {
  return JSON.stringify({ rules, pinned, keepOuts, solution });
}

describe('applyCommand', () => {
  it('takes no more than a history can hold, but takes a retry', () => {
    const log = Array.from({ length: MAX_LOG }, () => spacing(30));
    const full = { ...empty, log, revision: MAX_LOG };
    expect(applyCommand(full, spacing(25), context)).toMatchObject({
      ok: false,
      refusal: { code: 'log-too-long', context: { limit: MAX_LOG } },
    });
    const [first] = log;
    expect(first && applyCommand(full, first, context)).toEqual({ ok: true, value: full });
  });

  it('keeps rules and moved beacons, one revision an edit', () => {
    const scheme = apply(empty, spacing(30), slide(100));
    expect(scheme).toMatchObject({ revision: 2, rules: { spacingM: 30 } });
    expect(scheme.pinned).toEqual([
      { id: `${linkId}.3`, at: { linkId, chainageM: 100 }, anchor: 'chainage' },
    ]);
    expect(apply(scheme, spacing(null)).rules).toEqual({});
    expect(
      apply(scheme, { kind: 'releaseBeacon', commandId: id(), beaconId: `${linkId}.3` as BeaconId }).pinned,
    ).toEqual([]);
  });

  it('gives the same content after undo, and after redo', () => {
    const before = apply(empty, spacing(30));
    const edit = slide(100);
    const after = apply(before, edit);
    const undo = revert(edit.commandId);
    const undone = apply(after, undo);
    expect(content(undone)).toBe(content(before));
    const redo = revert(undo.commandId);
    const redone = apply(undone, redo);
    expect(content(redone)).toBe(content(after));
    expect(content(apply(redone, revert(redo.commandId)))).toBe(content(before));
  });

  it('goes back to the place before the last move', () => {
    const second = slide(120);
    const scheme = apply(empty, slide(100), second, revert(second.commandId));
    expect(scheme.pinned[0]?.at.chainageM).toBe(100);
  });

  it('refuses an undo that would trample a later edit', () => {
    const first = slide(100);
    const scheme = apply(empty, first, slide(120));
    expect(refusalOf(scheme, revert(first.commandId))).toBe('command-overtaken');
    const other = apply(empty, first, spacing(30));
    expect(refusalOf(other, revert(first.commandId))).toBe('accepted');
  });

  it('refuses a second undo of the same edit', () => {
    const first = slide(100);
    expect(refusalOf(apply(empty, first, revert(first.commandId)), revert(first.commandId))).toBe(
      'command-overtaken',
    );
  });

  it('takes a retry as done', () => {
    const edit = slide(100);
    const once = apply(empty, edit);
    expect(apply(once, edit)).toBe(once);
  });

  it.each([
    [spacing(1), 'rule-invalid'],
    [spacing(Number.NaN), 'rule-invalid'],
    [slide(-1), 'chainage-out-of-range'],
    [slide(Number.NaN), 'chainage-out-of-range'],
    [slide(401), 'chainage-out-of-range'],
    [slide(100, 'no-such-beacon'), 'beacon-unknown'],
    [{ ...slide(100), to: { linkId: 'no-such-link' as LinkId, chainageM: 1 } } as Command, 'link-unknown'],
    [{ kind: 'releaseBeacon', commandId: id(), beaconId: 'n1' as BeaconId } as Command, 'beacon-unknown'],
    [revert('no-such-command'), 'command-unknown'],
  ])('refuses %j as %s', (command, code) => {
    expect(refusalOf(empty, command)).toBe(code);
  });

  it('leaves the scheme it was given as it was', () => {
    const frozen = Object.freeze({ ...empty, log: Object.freeze([...empty.log]) }) as Scheme;
    apply(frozen, spacing(30), slide(100));
    expect(frozen).toEqual(empty);
  });
});

describe('a beacon’s wall and radius', () => {
  it('a wall is kept until another one is named, the radius through every move', () => {
    const first: Command = { ...slide(100), wall: 'left' } as Command;
    const scheme = apply(empty, first, setRadius(25, 100, 'left'), slide(110));
    expect(scheme.pinned).toEqual([
      { id: third, at: { linkId, chainageM: 110 }, anchor: 'chainage', wall: 'left', radiusM: 25 },
    ]);
    const over = apply(scheme, { ...slide(110), wall: 'right' } as Command);
    expect(over.pinned[0]).toMatchObject({ wall: 'right', radiusM: 25 });
  });

  it('a radius locks the beacon where it stands, and taken away leaves it locked there', () => {
    const scheme = apply(empty, setRadius(25));
    expect(scheme.pinned).toEqual([
      { id: third, at: { linkId, chainageM: 80 }, anchor: 'chainage', wall: 'right', radiusM: 25 },
    ]);
    const back = apply(scheme, setRadius(null));
    expect(back.pinned[0]).not.toHaveProperty('radiusM');
    expect(back.pinned[0]).toMatchObject({ at: { chainageM: 80 }, wall: 'right' });
  });
});

describe('keep-outs', () => {
  it('are added and removed, sorted by id', () => {
    const scheme = apply(empty, keepOut({ id: 'keep-out-2', fromM: 10, toM: 12 }), keepOut());
    expect(scheme.keepOuts.map(({ id, fromM }) => [id, fromM])).toEqual([
      ['keep-out-1', 78],
      ['keep-out-2', 10],
    ]);
    const less = apply(scheme, removeKeepOut());
    expect(less.keepOuts.map(({ id }) => id)).toEqual(['keep-out-2']);
    // The name is free again.
    expect(apply(less, keepOut()).keepOuts).toHaveLength(2);
  });

  it('may reach from end to end of a link', () => {
    expect(refusalOf(empty, keepOut({ fromM: 0, toM: network.links[0]?.lengthM ?? 0 }))).toBe('accepted');
  });
});

describe('every edit can be taken back', () => {
  const before = apply(empty, keepOut({ id: 'keep-out-0', fromM: 1, toM: 2 }), slide(100), accept(20));
  it.each([
    ['a choice', choose('side', 'both')],
    ['a wall', { ...slide(100), wall: 'left' } as Command],
    ['a radius', setRadius(25, 100)],
    ['a radius that locks', setRadius(25, 120, 'left', `${linkId}.4` as BeaconId)],
    ['an anchor', { kind: 'setAnchor', commandId: id(), beaconId: third, anchor: 'position' } as Command],
    ['a keep-out', keepOut()],
    ['the removal of a keep-out', removeKeepOut('keep-out-0')],
    ['a solution', accept(30)],
    ['back to the quick layout', dropSolution()],
  ])('%s', (_, command) => {
    const after = apply(before, command);
    expect(content(after)).not.toBe(content(before));
    const undo = revert(command.commandId);
    const undone = apply(after, undo);
    expect(content(undone)).toBe(content(before));
    expect(content(apply(undone, revert(undo.commandId)))).toBe(content(after));
  });

  it('but not under a later edit of the same thing', () => {
    const added = keepOut();
    expect(refusalOf(apply(empty, added, removeKeepOut()), revert(added.commandId))).toBe(
      'command-overtaken',
    );
    const set = setRadius(25);
    expect(refusalOf(apply(empty, set, slide(90)), revert(set.commandId))).toBe('command-overtaken');
    const found = accept(20);
    expect(refusalOf(apply(empty, found, dropSolution()), revert(found.commandId))).toBe('command-overtaken');
    // Another keep-out is another thing.
    const other = keepOut({ id: 'keep-out-2', fromM: 1, toM: 2 });
    expect(refusalOf(apply(empty, added, other), revert(added.commandId))).toBe('accepted');
  });
});

describe('what makes no sense is refused', () => {
  const nowhere = 'no-such-link' as LinkId;
  it.each([
    [setRadius(4), 'rule-invalid'],
    [setRadius(Number.NaN), 'rule-invalid'],
    [setRadius(25, 401), 'chainage-out-of-range'],
    [setRadius(25, 80, 'left', 'no-such-beacon' as BeaconId), 'beacon-unknown'],
    [keepOut({ linkId: nowhere }), 'link-unknown'],
    [keepOut({ fromM: -1 }), 'chainage-out-of-range'],
    [keepOut({ toM: 401 }), 'chainage-out-of-range'],
    [keepOut({ toM: Number.NaN }), 'chainage-out-of-range'],
    [keepOut({ fromM: 82 }), 'keep-out-empty'],
    [keepOut({ fromM: 90 }), 'keep-out-empty'],
    [removeKeepOut(), 'keep-out-unknown'],
    [accept(401), 'chainage-out-of-range'],
    [accept(10, nowhere), 'link-unknown'],
    [choose('side', 'middle'), 'choice-invalid'],
    [choose('method', 3), 'choice-invalid'],
    [choose('side', 'toString'), 'choice-invalid'],
    [choose('spacingM', '40'), 'rule-invalid'],
  ])('%j as %s', (command, code) => {
    expect(refusalOf(empty, command)).toBe(code);
  });

  it('a second keep-out of the same name', () => {
    expect(refusalOf(apply(empty, keepOut()), keepOut({ fromM: 1, toM: 2 }))).toBe('keep-out-known');
  });

  it('names the rule and what it may be', () => {
    const result = applyCommand(empty, choose('side', 'middle'), context);
    expect(result).toMatchObject({
      refusal: { context: { rule: 'Side', value: 'middle', options: 'near, left, right, alternate, both' } },
    });
  });
});
