import { useMemo, useState } from 'react';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import type { RevisionComparison } from '../../shared/wire/comparison.ts';
import { useSessions } from '../app/sessions.ts';
import { RowGrid } from '../ui/row-grid.tsx';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { boundsOfBeacon, boundsOfLink, boundsOfTunnel } from './change-bounds.ts';
import { ChangeCells } from './change-cells.tsx';
import { type ChangeRow, toBeaconRows, toLinkRows, toTunnelRows } from './to-change-cells.ts';

const KINDS = ['tunnels', 'links', 'beacons'] as const;
type Kind = (typeof KINDS)[number];

const WIDTHS: Readonly<Record<Kind, string>> = {
  tunnels: '64px minmax(120px, 3fr) minmax(70px, 2fr) 104px',
  links: '64px minmax(120px, 1fr) 118px 52px',
  beacons: '64px 118px 52px minmax(90px, 1fr) 14px',
};

/** The changes, one list at a time: tunnels, links, beacons. Choosing a row brings its place on the map. */
export function ChangeLists({ comparison }: { readonly comparison: RevisionComparison }) {
  const { surveys, view } = useSessions();
  const { open } = useStore(surveys);
  const isNarrow = useMedia(NARROW);
  const first = KINDS.find((kind) => countOf(comparison, kind) > 0) ?? 'tunnels';
  const [kind, setKind] = useState<Kind>(first);
  const [selected, setSelected] = useState<number>();
  const rows = useMemo((): readonly ChangeRow[] => {
    const known = new Map((open?.status === 'ready' ? open.value.rows : []).map((row) => [row.id, row.name]));
    const named = new Map(comparison.complexes.map(({ id, name }) => [id, name]));
    const nameOf = (id: string) => known.get(id) ?? named.get(id) ?? id;
    if (kind === 'tunnels') return toTunnelRows(comparison, nameOf);
    return kind === 'links' ? toLinkRows(comparison, nameOf) : toBeaconRows(comparison, nameOf);
  }, [comparison, kind, open]);
  const show = (index: number) => {
    const bounds = boundsOfRow(rows[index], comparison);
    setSelected(index);
    if (bounds !== undefined) view.goTo(bounds);
  };
  return (
    <>
      <fieldset className="segments changes-kinds">
        <legend className="hidden-from-sight">{words.changes.listTitle}</legend>
        {KINDS.map((one) => (
          <label key={one}>
            <input
              type="radio"
              name="changes-kind"
              checked={kind === one}
              onChange={() => {
                setKind(one);
                setSelected(undefined);
              }}
            />
            {words.changes.lists[one]}
            <span className="muted">{countOf(comparison, one).toLocaleString('en-GB')}</span>
          </label>
        ))}
      </fieldset>
      {rows.length === 0 ? (
        <p className="empty muted changes-fill">{words.changes.emptyList[kind]}</p>
      ) : (
        <RowGrid
          key={kind}
          label={words.changes.lists[kind]}
          columns={isNarrow ? 'minmax(0, 1fr)' : WIDTHS[kind]}
          head={<Head kind={kind} isNarrow={isNarrow} />}
          count={rows.length}
          touchLines={2}
          keyOf={(index) => rows[index]?.key ?? ''}
          isGroup={(index) => rows[index]?.group !== undefined}
          classOf={(index) => (rows[index]?.group === undefined ? '' : 'is-group')}
          selected={selected}
          onOpen={show}
          choosesOnMove
          renderRow={(index) => <ChangeCells row={rows[index]} isNarrow={isNarrow} />}
        />
      )}
    </>
  );
}

type HeadProps = { readonly kind: Kind; readonly isNarrow: boolean };

function Head({ kind, isNarrow }: HeadProps) {
  const say = words.changes.columns;
  if (isNarrow) {
    return (
      // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: head of a grid of divs
      <span role="columnheader" className="hidden-from-sight">
        {words.changes.lists[kind]}
      </span>
    );
  }
  const titles = {
    tunnels: [say.change, say.tunnel, say.facets, say.length],
    links: [say.change, say.link, say.length, say.shift],
    beacons: [say.change, say.chainage, say.shift, say.kept],
  }[kind];
  return titles.map((title) => (
    // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: head of a grid of divs
    <span
      key={title}
      role="columnheader"
      className={title === say.length || title === say.shift ? 'number' : ''}
    >
      {title}
    </span>
  ));
}

function countOf({ complexes, links, beacons }: RevisionComparison, kind: Kind): number {
  return { tunnels: complexes, links, beacons }[kind].length;
}

function boundsOfRow(row: ChangeRow | undefined, comparison: RevisionComparison): BBox | undefined {
  if (row?.tunnel !== undefined) return boundsOfTunnel(comparison, row.tunnel.id, row.tunnel.at);
  if (row?.link !== undefined) return boundsOfLink(row.link);
  return row?.beacon === undefined ? undefined : boundsOfBeacon(row.beacon);
}
