import type { SurveyView } from '../../shared/wire/survey.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { words } from '../words.ts';

export type Override = NonNullable<SurveyView['overrides']>[number];

/** What a person said about a tunnel: the words for it, and the command that an undo takes back. */
export type OverrideRow = { readonly commandId: string; readonly text: string };

/** What people said about the bores of one tunnel, the latest last; those that a reason names already are left out. */
export function listOverrides(
  row: TunnelRow,
  rows: readonly TunnelRow[],
  overrides: readonly Override[],
  named: ReadonlySet<string>,
): readonly OverrideRow[] {
  const own = new Set(row.osmWays);
  return overrides
    .filter(({ commandId, ways }) => !named.has(commandId) && ways.some((way) => own.has(way)))
    .map(({ commandId, kind, ways }) => {
      const say = words.grouping;
      const nameOf = (way: number) => {
        const there = rows.some((one) => one.osmWays.includes(way));
        return there ? words.tunnel.way(way) : `${words.tunnel.way(way)}, ${say.notThere}`;
      };
      if (kind === 'join') return { commandId, text: say.joinedWith(nameOf(ways[0]), nameOf(ways[1])) };
      const other = ways.find((way) => !own.has(way)) ?? ways[1];
      const tunnel = rows.find((one) => one.osmWays.includes(other));
      return { commandId, text: say.splitFrom(tunnel?.name ?? say.notThere, words.tunnel.way(other)) };
    });
}

/** The join by hand that brings these two bores together, the latest where there are several. */
export function findJoin(
  sides: readonly [{ readonly wayIds: readonly number[] }, { readonly wayIds: readonly number[] }],
  overrides: readonly Override[],
): Override | undefined {
  const [one, other] = sides;
  return overrides.findLast(
    ({ kind, ways: [a, b] }) =>
      kind === 'join' &&
      ((one.wayIds.includes(a) && other.wayIds.includes(b)) ||
        (one.wayIds.includes(b) && other.wayIds.includes(a))),
  );
}
