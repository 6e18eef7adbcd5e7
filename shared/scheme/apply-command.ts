import type { LineAddress } from '../alignment/line-address.ts';
import type { ComplexNetwork } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import type { Beacon, Pin } from '../placement/beacon.ts';
import { type KeepOut, MAX_KEEP_OUTS } from '../placement/keep-out.ts';
import { checkRule } from '../placement/rules.ts';
import type { Solution } from '../placement/solution.ts';
import { listActive } from './list-active.ts';
import type { Command, LogEntry, Scheme } from './scheme.ts';

/** What an edit is checked against: the complex, and the beacons that stand before it. */
export type CommandContext = {
  readonly network: ComplexNetwork;
  /** Asked only where a command names a beacon. */
  listBeacons(scheme: Scheme): readonly Beacon[];
};

/** Far more than people make; whoever sends without end does not fill the store, nor the time that a replay takes. */
export const MAX_LOG = 20_000;

/**
 * Applies one edit: the log grows by it, what people changed follows from the log. A command whose id is in the
 * log already changes nothing, so that a retry is safe. Refused: `rule-invalid`, `choice-invalid`, `beacon-unknown`,
 * `link-unknown`, `chainage-out-of-range`, `keep-out-unknown`, `keep-out-known`, `keep-outs-too-many`, `rule-not-whole`, `keep-out-empty`,
 * `command-unknown`, `command-overtaken`, `log-too-long`.
 */
export function applyCommand(scheme: Scheme, command: Command, context: CommandContext): Result<Scheme> {
  if (scheme.log.some((earlier) => earlier.commandId === command.commandId)) return done(scheme);
  if (scheme.log.length >= MAX_LOG) return refused(refusal('log-too-long', { limit: MAX_LOG }));
  const checked = check(scheme, command, context);
  if (!checked.ok) return checked;
  const log = [...scheme.log, command];
  return done({ complexId: scheme.complexId, revision: scheme.revision + 1, log, ...replay(log) });
}

function check(scheme: Scheme, command: Command, context: CommandContext): Result<null> {
  switch (command.kind) {
    case 'setRule': {
      const bad = command.value === null ? undefined : checkRule(command.rule, command.value);
      return bad === undefined ? done(null) : refused(bad);
    }
    case 'slideBeacon':
      return checkPlaced(scheme, command.beaconId, command.to, context);
    case 'setRadius': {
      const bad = command.radiusM === null ? undefined : checkRule('coverageRadiusM', command.radiusM);
      return bad === undefined ? checkPlaced(scheme, command.beaconId, command.at, context) : refused(bad);
    }
    case 'setAnchor':
    case 'releaseBeacon':
      return scheme.pinned.some((pin) => pin.id === command.beaconId)
        ? done(null)
        : refused(refusal('beacon-unknown', { beaconId: command.beaconId }));
    case 'addKeepOut':
      return checkKeepOut(scheme, command.keepOut, context);
    case 'removeKeepOut':
      return scheme.keepOuts.some(({ id }) => id === command.keepOutId)
        ? done(null)
        : refused(refusal('keep-out-unknown', { keepOutId: command.keepOutId }));
    case 'acceptSolution':
      return checkAll(command.solution?.places ?? [], (place) => checkAddress(place, context));
    case 'revert':
      return checkRevert(scheme, command.revertedId);
  }
}

function checkPlaced(
  scheme: Scheme,
  beaconId: string,
  at: LineAddress,
  context: CommandContext,
): Result<null> {
  const address = checkAddress(at, context);
  return address.ok ? checkBeacon(scheme, beaconId, context) : address;
}

function checkAddress({ linkId, chainageM }: LineAddress, { network }: CommandContext): Result<null> {
  const link = network.links.find((candidate) => candidate.id === linkId);
  if (link === undefined) return refused(refusal('link-unknown', { linkId }));
  return chainageM >= 0 && chainageM <= link.lengthM
    ? done(null)
    : refused(refusal('chainage-out-of-range', { chainageM, lengthM: link.lengthM }));
}

/** A keep-out lies on a link of the tunnel and ends past its start. */
function checkKeepOut(scheme: Scheme, keepOut: KeepOut, context: CommandContext): Result<null> {
  const { id, linkId, fromM, toM } = keepOut;
  if (scheme.keepOuts.length >= MAX_KEEP_OUTS) {
    return refused(refusal('keep-outs-too-many', { limit: MAX_KEEP_OUTS }));
  }
  if (scheme.keepOuts.some((one) => one.id === id)) {
    return refused(refusal('keep-out-known', { keepOutId: id }));
  }
  const ends = checkAll([fromM, toM], (chainageM) => checkAddress({ linkId, chainageM }, context));
  return ends.ok && !(fromM < toM) ? refused(refusal('keep-out-empty', { fromM, toM })) : ends;
}

function checkAll<T>(items: readonly T[], checkOne: (item: T) => Result<null>): Result<null> {
  for (const item of items) {
    const checked = checkOne(item);
    if (!checked.ok) return checked;
  }
  return done(null);
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

/** What a command changes: one rule, one beacon, one keep-out, or the solution. */
function subjectOf(log: readonly LogEntry[], command: LogEntry): string {
  switch (command.kind) {
    case 'setRule':
      return `rule/${command.rule}`;
    case 'slideBeacon':
    case 'setRadius':
    case 'setAnchor':
    case 'releaseBeacon':
      return `beacon/${command.beaconId}`;
    case 'addKeepOut':
      return `keep-out/${command.keepOut.id}`;
    case 'removeKeepOut':
      return `keep-out/${command.keepOutId}`;
    case 'acceptSolution':
      return 'solution';
    case 'carry':
      return EVERYTHING;
    case 'revert': {
      const target = log.find((earlier) => earlier.commandId === command.revertedId);
      return target === undefined ? '' : subjectOf(log, target);
    }
  }
}

type Content = Pick<Scheme, 'rules' | 'pinned' | 'keepOuts' | 'solution'>;

/** What a log amounts to. */
export function replay(log: readonly LogEntry[]): Content {
  const active = listActive(log);
  let rules = new Map<string, number | string>();
  let pinned = new Map<string, Pin>();
  let keepOuts = new Map<string, KeepOut>();
  let solution: Solution | null = null;
  for (const command of log.filter((candidate) => active.has(candidate.commandId))) {
    switch (command.kind) {
      case 'setRule':
        setOrDelete(rules, command.rule, command.value);
        break;
      case 'slideBeacon':
      case 'setRadius':
      case 'setAnchor':
      case 'releaseBeacon':
        setOrDelete(pinned, command.beaconId, replayPin(pinned.get(command.beaconId), command));
        break;
      case 'addKeepOut':
        keepOuts.set(command.keepOut.id, command.keepOut);
        break;
      case 'removeKeepOut':
        keepOuts.delete(command.keepOutId);
        break;
      case 'acceptSolution':
        solution = command.solution;
        break;
      case 'carry':
        rules = new Map(Object.entries(command.rules));
        pinned = new Map(command.pinned.map((pin) => [pin.id, pin]));
        keepOuts = new Map(command.keepOuts.map((keepOut) => [keepOut.id, keepOut]));
        solution = command.solution ?? null;
        break;
      case 'revert':
        break;
    }
  }
  return {
    rules: Object.fromEntries([...rules].sort()) as Scheme['rules'],
    pinned: sortById(pinned),
    keepOuts: sortById(keepOuts),
    ...(solution === null ? {} : { solution }),
  };
}

type PinCommand = Extract<Command, { kind: 'slideBeacon' | 'setRadius' | 'setAnchor' | 'releaseBeacon' }>;

/** What becomes of one pin; null where there is none. */
function replayPin(pin: Pin | undefined, command: PinCommand): Pin | null {
  switch (command.kind) {
    case 'slideBeacon': {
      const { beaconId: id, to: at, anchor, wall } = command;
      return { ...pin, id, at, anchor, ...(wall === undefined ? {} : { wall }) };
    }
    case 'setRadius': {
      const { beaconId: id, at, wall, radiusM } = command;
      const { radiusM: _, ...placed } = pin ?? { id, at, anchor: 'chainage', wall };
      return { ...placed, ...(radiusM === null ? {} : { radiusM }) };
    }
    case 'setAnchor':
      return pin === undefined ? null : { ...pin, anchor: command.anchor };
    case 'releaseBeacon':
      return null;
  }
}

function sortById<T extends { readonly id: string }>(items: ReadonlyMap<string, T>): readonly T[] {
  return [...items.values()].sort((a, b) => byText(a.id, b.id));
}

function setOrDelete<V>(map: Map<string, V>, name: string, value: V | null): void {
  if (value === null) map.delete(name);
  else map.set(name, value);
}
