import { type GroupingOverride, joinByNodes } from '../network/group-links.ts';
import type { Complex, TunnelNetwork } from '../network/network.ts';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import { listActive } from './list-active.ts';

/** Ways that words by hand name and that are others on the extract that was adopted: the old one and the new one. */
export type RenamedWays = readonly (readonly [number, number])[];

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

/** One line of a survey's log: what a person sent, and for an adopted extract what became of ways that were named. */
export type SurveyLogEntry =
  | Exclude<SurveyCommand, { kind: 'adoptExtract' }>
  | (Extract<SurveyCommand, { kind: 'adoptExtract' }> & { readonly renamedWays: RenamedWays })
  | GoneBack;

/** That the survey became again what it was at a revision, with the words by hand that held then. */
export type GoneBack = {
  readonly kind: 'goBack';
  readonly commandId: string;
  readonly toRevision: number;
  readonly overrides: readonly HandOverride[];
};

export type HandOverride = GroupingOverride & { readonly commandId: string };

/**
 * What people said about which bores are one tunnel and did not take back, in the order of saying, by the ways as
 * they are now. Of two words that contradict each other the split holds (group-links.ts).
 */
export function listOverrides(wholeLog: readonly SurveyLogEntry[]): readonly HandOverride[] {
  const log = sinceGoneBack(wholeLog);
  const active = listActive(log);
  let overrides: readonly HandOverride[] = [];
  for (const entry of log) {
    if (entry.kind === 'adoptExtract') overrides = renameWays(overrides, entry.renamedWays);
    else if (entry.kind !== 'revert' && entry.kind !== 'goBack' && active.has(entry.commandId)) {
      overrides = [...overrides, { kind: entry.kind, commandId: entry.commandId, ways: entry.ways }];
    }
  }
  return overrides;
}

/** What counts of a log: where it was gone back, the words by hand of then, and what was said since. */
function sinceGoneBack(log: readonly SurveyLogEntry[]): readonly SurveyLogEntry[] {
  const last = log.findLastIndex(({ kind }) => kind === 'goBack');
  const goneBack = log[last];
  return goneBack?.kind === 'goBack' ? [...goneBack.overrides, ...log.slice(last + 1)] : log;
}

/** Words by hand with the ways that are others now. */
export function renameWays<T extends GroupingOverride>(
  overrides: readonly T[],
  renamedWays: RenamedWays,
): readonly T[] {
  const names = new Map(renamedWays);
  return overrides.map((override) => {
    const [one, other] = override.ways;
    return { ...override, ways: [names.get(one) ?? one, names.get(other) ?? other] as const };
  });
}

/**
 * Whether an edit can be made on the network as it stands. Refused: `way-unknown`, `grouping-void` where it says
 * what is so already, `kinds-differ`, `bores-connected` where a split would have to cut a bore,
 * `command-unknown`, `command-overtaken` where it is taken back already, `adoption-final`.
 */
export function checkSurveyCommand(
  wholeLog: readonly SurveyLogEntry[],
  command: SurveyCommand,
  network: TunnelNetwork,
): Result<null> {
  const log = sinceGoneBack(wholeLog);
  switch (command.kind) {
    case 'join':
    case 'split':
      return checkOverride(command.kind, command.ways, network);
    case 'adoptExtract':
      return done(null);
    case 'revert': {
      const target = log.find((entry) => entry.commandId === command.revertedId);
      if (target === undefined) return refused(refusal('command-unknown', { commandId: command.revertedId }));
      if (target.kind === 'adoptExtract') return refused(refusal('adoption-final'));
      return listActive(log).has(target.commandId) ? done(null) : refused(refusal('command-overtaken'));
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
