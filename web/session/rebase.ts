import { applyCommand, type CommandContext } from '../../shared/scheme/apply-command.ts';
import type { Command, Scheme } from '../../shared/scheme/scheme.ts';

/** Unsaved edits set on top of a scheme that somebody else has changed meanwhile. */
export type Rebased = {
  readonly scheme: Scheme;
  /** Still hold, and will be sent again. */
  readonly kept: readonly Command[];
  /** Would overwrite what somebody else has changed: the person decides. */
  readonly conflicts: readonly Command[];
};

/**
 * Replays edits that `before` did not save on `now`. An edit is in conflict where its rule or beacon is
 * another in `now` than it was in `before`, or where the core refuses it. Edits that `now` holds already are done.
 * `contextBefore` differs where the tunnel itself has become another one.
 */
export function rebase(
  before: Scheme,
  now: Scheme,
  pending: readonly Command[],
  context: CommandContext,
  contextBefore: CommandContext = context,
): Rebased {
  const saved = new Set(now.log.map((command) => command.commandId));
  const mine = pending.filter((command) => saved.has(command.commandId));
  const expected = mine.reduce((scheme, command) => applyIfPossible(scheme, command, contextBefore), before);
  let scheme = now;
  const kept: Command[] = [];
  const conflicts: Command[] = [];
  for (const command of pending.filter((candidate) => !saved.has(candidate.commandId))) {
    const applied = isOvertaken(command, expected, now) ? undefined : applyCommand(scheme, command, context);
    if (applied?.ok) {
      scheme = applied.value;
      kept.push(command);
    } else conflicts.push(command);
  }
  return { scheme, kept, conflicts };
}

function applyIfPossible(scheme: Scheme, command: Command, context: CommandContext): Scheme {
  const applied = applyCommand(scheme, command, context);
  return applied.ok ? applied.value : scheme;
}

function isOvertaken(command: Command, before: Scheme, now: Scheme): boolean {
  switch (command.kind) {
    case 'setRule':
      return before.rules[command.rule] !== now.rules[command.rule];
    case 'slideBeacon':
    case 'setRadius':
    case 'setAnchor':
    case 'releaseBeacon':
      return placeOf(before, command.beaconId) !== placeOf(now, command.beaconId);
    case 'acceptSolution':
      return before.solution?.key !== now.solution?.key;
    case 'addKeepOut':
    case 'removeKeepOut':
    case 'revert':
      return false;
  }
}

function placeOf(scheme: Scheme, beaconId: string): string | undefined {
  const pin = scheme.pinned.find((candidate) => candidate.id === beaconId);
  return pin === undefined
    ? undefined
    : JSON.stringify([pin.at.linkId, pin.at.chainageM, pin.anchor, pin.wall, pin.radiusM]);
}
