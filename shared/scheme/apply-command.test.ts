import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { LinkId } from '../network/network.ts';
import { listComplexNetworks } from '../pipeline/build-survey.ts';
import { designComplex } from '../pipeline/design-complex.ts';
import type { BeaconId } from '../placement/beacon.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { applyCommand } from './apply-command.ts';
import { type Command, makeScheme, type Scheme } from './scheme.ts';

const extract = drawPlace({
  nodes: { 1: [0, 0], 2: [400, 0] },
  ways: [{ id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes', maxspeed: '50' } }],
});
const [network] = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
if (network === undefined) throw new Error('no tunnel');
const linkId = network.links[0]?.id as LinkId;
const listBeacons = (scheme: Scheme) => designComplex(network, DEFAULT_RULES, scheme).value.beacons;
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
const revert = (revertedId: string): Command => ({ kind: 'revert', commandId: id(), revertedId });

function apply(scheme: Scheme, ...commands: Command[]): Scheme {
  return commands.reduce((before, command) => {
    const result = applyCommand(before, command, { network: network as never, listBeacons });
    if (!result.ok) throw new Error(result.refusal.code);
    return result.value;
  }, scheme);
}

function refusalOf(scheme: Scheme, command: Command): string {
  const result = applyCommand(scheme, command, { network: network as never, listBeacons });
  return result.ok ? 'accepted' : result.refusal.code;
}

/** What a scheme says, without how it came to say it. */
function content({ rules, pinned }: Scheme) {
  return JSON.stringify({ rules, pinned });
}

describe('applyCommand', () => {
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
