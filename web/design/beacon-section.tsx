import { type KeyboardEvent, useMemo } from 'react';
import type { Beacon, BeaconRole } from '../../shared/placement/beacon.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { RowGrid } from '../ui/row-grid.tsx';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { words } from '../words.ts';
import { BeaconEditor } from './beacon-editor.tsx';
import { type BeaconRow, listBeaconRows, nameOfLink } from './list-beacon-rows.ts';

const WIDTHS = '70px 44px 62px 70px minmax(70px, 1fr) 16px';
/** So that a row fits a screen of 360 px. */
const NARROW_WIDTHS = '58px 34px 54px 62px minmax(54px, 1fr) 12px';

type BeaconSectionProps = {
  readonly session: DesignSession;
  readonly open: OpenDesign;
  readonly onKeepOut: (beacon: Beacon) => void;
};

/** The list of beacons and the one that is chosen: the full keyboard way to place beacons. */
export function BeaconSection({ session, open, onKeepOut }: BeaconSectionProps) {
  const { network, shown, beaconId } = open;
  const isNarrow = useMedia(NARROW);
  const beacons = shown?.design.beacons;
  const rows = useMemo(() => listBeaconRows(network.links, beacons ?? []), [network.links, beacons]);
  const index = rows.findIndex((row) => row.kind === 'beacon' && row.beacon.id === beaconId);
  const columns = Object.values(words.beacons.columns);
  const choose = (at: number) => {
    const row = rows[at];
    if (row?.kind === 'beacon') session.selectBeacon(row.beacon.id);
  };
  const key = (event: KeyboardEvent): boolean => {
    const step = stepOf(event);
    if (beaconId === undefined) return false;
    if (step !== undefined) session.nudge(beaconId, step);
    else if (event.key === 'Escape' && open.preview !== undefined) session.cancel();
    else if (event.key === 'Escape') session.selectBeacon(undefined);
    else return false;
    return true;
  };
  return (
    <section className="beacons" aria-label={words.beacons.title}>
      <div className="beacons-head">
        <h3>{words.beacons.title}</h3>
        <p className="muted">{shown === undefined ? '' : countRoles(open)}</p>
      </div>
      {!isNarrow && <BeaconEditor session={session} open={open} onKeepOut={onKeepOut} />}
      {beacons !== undefined && rows.length === 0 ? (
        <p className="empty muted">{words.beacons.none}</p>
      ) : (
        <RowGrid
          label={words.beacons.title}
          columns={isNarrow ? NARROW_WIDTHS : WIDTHS}
          head={columns.map((title, i) => (
            // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: head of a grid of divs
            <span key={title} role="columnheader" className={[2, 3].includes(i) ? 'number' : ''}>
              {title}
            </span>
          ))}
          count={rows.length}
          keyOf={(i) => keyOf(rows[i])}
          isGroup={(i) => rows[i]?.kind === 'link'}
          classOf={(i) => (rows[i]?.kind === 'link' ? 'is-group' : '')}
          selected={index < 0 ? undefined : index}
          choosesOnMove
          onOpen={choose}
          onKey={key}
          renderRow={(i) => <BeaconCells row={rows[i]} linkCount={network.links.length} />}
        />
      )}
    </section>
  );
}

/** Metres that a key moves the chosen beacon by; Shift is ten times as much. */
function stepOf(event: KeyboardEvent): number | undefined {
  const size = event.shiftKey ? 10 : 1;
  if (event.code === 'BracketLeft' || event.key === '[' || event.key === '{') return -size;
  if (event.code === 'BracketRight' || event.key === ']' || event.key === '}') return size;
  if (event.altKey && event.key === 'ArrowLeft') return -size;
  if (event.altKey && event.key === 'ArrowRight') return size;
  return undefined;
}

function keyOf(row: BeaconRow | undefined): string {
  return row === undefined ? '' : row.kind === 'link' ? `link ${row.link.id}` : row.beacon.id;
}

type BeaconCellsProps = { readonly row: BeaconRow | undefined; readonly linkCount: number };

function BeaconCells({ row, linkCount }: BeaconCellsProps) {
  if (row === undefined) return null;
  if (row.kind === 'link') {
    const { link, index } = row;
    return (
      // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs
      <span role="gridcell" className="whole-row">
        {words.beacons.link(index, linkCount, nameOfLink(link), formatNumber(link.lengthM))}
      </span>
    );
  }
  const { beacon, gapM } = row;
  const cells = [
    { id: 'chainage', text: formatChainage(beacon.at.chainageM) },
    { id: 'side', text: words.rules.sides[beacon.side] },
    { id: 'offset', text: formatNumber(Math.abs(beacon.offsetM), 1), isNumber: true },
    { id: 'gap', text: gapM === undefined ? '–' : formatNumber(gapM, 1), isNumber: true },
    { id: 'role', text: words.beacons.roles[beacon.role] },
  ];
  return (
    <>
      {cells.map(({ id, text, isNumber }) => (
        // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs
        <span key={id} role="gridcell" className={isNumber ? 'number' : ''}>
          {text}
        </span>
      ))}
      {beacon.locked && (
        // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs
        <span role="gridcell" className="locked" title={words.beacons.locked}>
          <span aria-hidden="true">◆</span>
          <span className="hidden-from-sight">{words.beacons.locked}</span>
        </span>
      )}
    </>
  );
}

function countRoles({ shown }: OpenDesign): string {
  const counts = new Map<BeaconRole, number>();
  for (const beacon of shown?.design.beacons ?? [])
    counts.set(beacon.role, (counts.get(beacon.role) ?? 0) + 1);
  return [...counts]
    .sort((a, b) => b[1] - a[1])
    .map(([role, count]) => `${formatNumber(count)} ${words.beacons.roles[role]}`)
    .join(' · ');
}
