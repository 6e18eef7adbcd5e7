import type { ComplexNetwork } from '../../shared/network/network.ts';
import { applyCommand } from '../../shared/scheme/apply-command.ts';
import type { Command, Scheme } from '../../shared/scheme/scheme.ts';

/** Whether an edit was made here: undo never takes back what somebody else has done. */
export type IsOwn = (commandId: string) => boolean;

/**
 * The edit that "undo" takes back: the last own one that still counts. Follows from the scheme's log, so that undo
 * works after a reload. Undefined where nothing is left: what was carried over from another shape of the tunnel is
 * nobody's edit, and nothing before it can be taken back.
 */
export function findUndo(scheme: Scheme, network: ComplexNetwork, isOwn: IsOwn): Command | undefined {
  return scheme.log.findLast(
    (entry): entry is Command =>
      entry.kind !== 'carry' &&
      entry.kind !== 'revert' &&
      isOwn(entry.commandId) &&
      canRevert(scheme, network, entry.commandId),
  );
}

/** The undo that "redo" takes back: the last own one that counts and has no own edit after it. */
export function findRedo(scheme: Scheme, network: ComplexNetwork, isOwn: IsOwn): Command | undefined {
  const own = scheme.log.filter((command) => isOwn(command.commandId));
  const lastEdit = own.findLastIndex((command) => command.kind !== 'revert');
  const edits = new Map(scheme.log.map((command) => [command.commandId, command]));
  return own
    .slice(lastEdit + 1)
    .findLast(
      (entry): entry is Command =>
        entry.kind === 'revert' &&
        edits.get(entry.revertedId)?.kind !== 'revert' &&
        canRevert(scheme, network, entry.commandId),
    );
}

/** The core decides: it refuses a revert that is void or would trample a later edit. */
function canRevert(scheme: Scheme, network: ComplexNetwork, revertedId: string): boolean {
  const command: Command = { kind: 'revert', commandId: `try-${revertedId}`, revertedId };
  return applyCommand(scheme, command, { network, listBeacons: () => [] }).ok;
}
