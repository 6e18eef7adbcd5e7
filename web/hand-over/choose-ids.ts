import type { TunnelRow } from '../session/tunnel-row.ts';

/** Which tunnels are handed over: all, those that the table shows, the open one, or some that were picked. */
export type TunnelChoice = 'all' | 'shown' | 'open' | 'picked';

/** The ids of a choice; undefined for all tunnels, which need no naming. */
export function chooseIds(
  choice: TunnelChoice,
  from: {
    readonly shown: readonly TunnelRow[];
    readonly openId: string | undefined;
    readonly picked: ReadonlySet<string>;
    readonly all: readonly TunnelRow[];
  },
): readonly string[] | undefined {
  switch (choice) {
    case 'all':
      return undefined;
    case 'shown':
      return from.shown.length === from.all.length ? undefined : from.shown.map(({ id }) => id);
    case 'open':
      return from.openId === undefined ? [] : [from.openId];
    case 'picked':
      // A tunnel may have gone meanwhile.
      return from.all.filter(({ id }) => from.picked.has(id)).map(({ id }) => id);
  }
}
