import type { ComplexNetwork } from '../network/network.ts';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import type { Beacon } from '../placement/beacon.ts';
import { RULES } from '../placement/rules.ts';
import { listActive } from './list-active.ts';
import type { Command, LogEntry, PinnedBeacon, Scheme } from './scheme.ts';

/** What an edit is checked against: the complex, and the beacons that stand before it. */
export type CommandContext = {
  readonly network: ComplexNetwork;
  /** Asked only where a command names a beacon. */
  listBeacons(scheme: Scheme): readonly Beacon[];
};

/**
 * Applies one edit: the log grows by it, what people changed follows from the log. A command whose id is in the
 * log already changes nothing, so that a retry is safe. Refused: `rule-invalid`, `beacon-unknown`, `link-unknown`,
 * `chainage-out-of-range`, `command-unknown`, `command-overtaken`.
 */
export function applyCommand(scheme: Scheme, command: Command, context: CommandContext): Result<Scheme> {
  if (scheme.log.some((earlier) => earlier.commandId === command.commandId)) return done(scheme);
  const checked = check(scheme, command, context);
  if (!checked.ok) return checked;
  const log = [...scheme.log, command];
  return done({ complexId: scheme.complexId, revision: scheme.revision + 1, log, ...replay(log) });
}

function check(scheme: Scheme, command: Command, context: CommandContext): Result<null> {
  switch (command.kind) {
    case 'setRule': {
      const { min, max, unit } = RULES[command.rule];
      const { value } = command;
      if (value === null || (value >= min && value <= max)) return done(null);
      return refused(refusal('rule-invalid', { rule: RULES[command.rule].label, min, max, unit, value }));
    }
    case 'setSide':
      return done(null);
    case 'slideBeacon': {
      const link = context.network.links.find((candidate) => candidate.id === command.to.linkId);
      if (link === undefined) return refused(refusal('link-unknown', { linkId: command.to.linkId }));
      const { chainageM } = command.to;
      if (!(chainageM >= 0 && chainageM <= link.lengthM)) {
        return refused(refusal('chainage-out-of-range', { chainageM, lengthM: link.lengthM }));
      }
      return checkBeacon(scheme, command.beaconId, context);
    }
    case 'setAnchor':
    case 'releaseBeacon':
      return scheme.pinned.some((pin) => pin.id === command.beaconId)
        ? done(null)
        : refused(refusal('beacon-unknown', { beaconId: command.beaconId }));
    case 'revert':
      return checkRevert(scheme, command.revertedId);
  }
}

function checkBeacon(scheme: Scheme, beaconId: string, context: CommandContext): Result<null> {
  return context.listBeacons(scheme).some((beacon) => beacon.id === beaconId)
    ? done(null)
    : refused(refusal('beacon-unknown', { beaconId }));
}

/** An undo must not trample a later edit of the same thing. */
function checkRevert(scheme: Scheme, revertedId: string): Result<null> {
  const index = scheme.log.findIndex((earlier) => earlier.commandId === revertedId);
  const reverted = scheme.log[index];
  if (reverted === undefined) return refused(refusal('command-unknown', { commandId: revertedId }));
  const active = listActive(scheme.log);
  if (!active.has(reverted.commandId)) return refused(refusal('command-overtaken'));
  const subject = subjectOf(scheme.log, reverted);
  const later = scheme.log.slice(index + 1).filter((command) => active.has(command.commandId));
  const overtaken = later.some((command) => {
    const other = command.kind === 'revert' ? undefined : subjectOf(scheme.log, command);
    return other === subject || other === EVERYTHING;
  });
  return overtaken || subject === EVERYTHING ? refused(refusal('command-overtaken')) : done(null);
}

/** The subject of what was carried over from another shape of the tunnel. */
const EVERYTHING = 'everything';

/** What a command changes: one rule, the side, or one beacon. */
function subjectOf(log: readonly LogEntry[], command: LogEntry): string {
  switch (command.kind) {
    case 'setRule':
      return `rule/${command.rule}`;
    case 'setSide':
      return 'side';
    case 'slideBeacon':
    case 'setAnchor':
    case 'releaseBeacon':
      return `beacon/${command.beaconId}`;
    case 'carry':
      return EVERYTHING;
    case 'revert': {
      const target = log.find((earlier) => earlier.commandId === command.revertedId);
      return target === undefined ? '' : subjectOf(log, target);
    }
  }
}

/** What a log amounts to. */
export function replay(log: readonly LogEntry[]): Pick<Scheme, 'rules' | 'pinned'> {
  const active = listActive(log);
  let rules = new Map<string, number | string>();
  let pinned = new Map<string, PinnedBeacon>();
  for (const command of log.filter((candidate) => active.has(candidate.commandId))) {
    if (command.kind === 'setRule') setOrDelete(rules, command.rule, command.value);
    else if (command.kind === 'setSide') setOrDelete(rules, 'side', command.side);
    else if (command.kind === 'slideBeacon') {
      const { beaconId: id, to: at, anchor } = command;
      pinned.set(id, { id, at, anchor });
    } else if (command.kind === 'setAnchor') {
      const pin = pinned.get(command.beaconId);
      if (pin !== undefined) pinned.set(pin.id, { ...pin, anchor: command.anchor });
    } else if (command.kind === 'carry') {
      rules = new Map(Object.entries(command.rules));
      pinned = new Map(command.pinned.map((pin) => [pin.id, pin]));
    } else if (command.kind === 'releaseBeacon') pinned.delete(command.beaconId);
  }
  const sorted = [...pinned.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  return { rules: Object.fromEntries([...rules].sort()) as Scheme['rules'], pinned: sorted };
}

function setOrDelete<V>(map: Map<string, V>, name: string, value: V | null): void {
  if (value === null) map.delete(name);
  else map.set(name, value);
}
