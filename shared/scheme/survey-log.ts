import { type GroupingOverride, joinByNodes } from '../network/group-links.ts';
import type { Complex, TunnelNetwork } from '../network/network.ts';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';

/**
 * An edit of a survey itself, with its id already chosen. `join` and `split` name a way of each of two bores;
 * `adoptExtract` accepts the newer extract that was compared; `revert` takes back a join or a split.
 */
export type SurveyCommand =
  | {
      readonly kind: 'join' | 'split';
      readonly commandId: string;
      readonly ways: readonly [number, number];
    }
  | { readonly kind: 'adoptExtract'; readonly commandId: string; readonly extractId: string }
  | { readonly kind: 'revert'; readonly commandId: string; readonly revertedId: string };

export type HandOverride = GroupingOverride & { readonly commandId: string };

/** What people said about which bores are one tunnel and did not take back, the latest last. */
export function listOverrides(log: readonly SurveyCommand[]): readonly HandOverride[] {
  const reverted = new Set(log.flatMap((entry) => (entry.kind === 'revert' ? [entry.revertedId] : [])));
  return log.filter(
    (entry): entry is Extract<SurveyCommand, { kind: 'join' | 'split' }> =>
      (entry.kind === 'join' || entry.kind === 'split') && !reverted.has(entry.commandId),
  );
}

/**
 * Whether an edit can be made on the network as it stands. Refused: `way-unknown`, `grouping-void` where it says
 * what is so already, `kinds-differ`, `bores-connected` where a split would have to cut a bore,
 * `command-unknown`, `command-overtaken`. A survey's `adoptExtract` cannot be taken back: compare with the older
 * extract and adopt that.
 */
export function checkSurveyCommand(
  log: readonly SurveyCommand[],
  command: SurveyCommand,
  network: TunnelNetwork,
): Result<null> {
  switch (command.kind) {
    case 'join':
    case 'split':
      return checkOverride(command.kind, command.ways, network);
    case 'adoptExtract':
      return done(null);
    case 'revert': {
      const target = log.find((entry) => entry.commandId === command.revertedId);
      if (target === undefined) return refused(refusal('command-unknown', { commandId: command.revertedId }));
      const isActive = listOverrides(log).some((entry) => entry.commandId === command.revertedId);
      return isActive ? done(null) : refused(refusal('command-overtaken'));
    }
  }
}

function checkOverride(
  kind: 'join' | 'split',
  ways: readonly [number, number],
  network: TunnelNetwork,
): Result<null> {
  const found: Complex[] = [];
  for (const way of ways) {
    const complex = network.complexes.find(({ osmWays }) => osmWays.includes(way));
    if (complex === undefined) return refused(refusal('way-unknown', { way }));
    found.push(complex);
  }
  const [one, other] = found as [Complex, Complex];
  if ((one.id === other.id) === (kind === 'join')) return refused(refusal('grouping-void', { kind }));
  if (one.kind !== other.kind) return refused(refusal('kinds-differ'));
  const links = network.links.filter((link) => one.linkIds.includes(link.id));
  const isConnected = joinByNodes(links).some((bore) => {
    const has = new Set(bore.flatMap((link) => link.stretches.map((stretch) => stretch.wayId)));
    return ways.every((way) => has.has(way));
  });
  return kind === 'split' && isConnected ? refused(refusal('bores-connected')) : done(null);
}
