import './design.css';
import type { Beacon } from '../../shared/placement/beacon.ts';
import { useSessions } from '../app/sessions.ts';
import { useDesign } from '../app/use-design.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { useRights } from '../app/use-rights.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { BeaconEditor } from './beacon-editor.tsx';
import { BeaconSection } from './beacon-section.tsx';
import { ChecksSection } from './checks-section.tsx';
import { DriveSection } from './drive-section.tsx';
import { draftAround } from './keep-out-draft.ts';
import { KeepOutSection } from './keep-out-section.tsx';
import { RadioSection } from './radio-section.tsx';
import { RulesSection } from './rules-section.tsx';
import { SaveBar, SaveNotice } from './save-bar.tsx';
import { TunnelFigures } from './tunnel-figures.tsx';
import { useKeepOutDraft } from './use-keep-out-draft.ts';

/** The panel of one tunnel: figures, rules, beacons. */
export function TunnelSheet() {
  const { surveys, view } = useSessions();
  const { open: survey } = useStore(surveys);
  const { address } = useStore(view);
  const design = useDesign();
  const row =
    survey?.status === 'ready' ? survey.value.rows.find((one) => one.id === address.tunnel) : undefined;
  const objectUrl = useOpenView()?.source?.objectUrl;
  const open = design?.state.status === 'ready' ? design.state.open : undefined;
  return (
    <>
      <div className="panel-head sheet-head">
        <button type="button" onClick={view.openTable}>
          ‹ {words.tunnel.back}
        </button>
        <div className="sheet-title">
          <h2>{row?.name ?? ''}</h2>
          {row !== undefined && <p className="muted">{describeRow(row)}</p>}
        </div>
        {row !== undefined && (
          <button type="button" className="show-on-map" onClick={() => view.goTo(row.bbox)}>
            {words.tunnel.showOnMap}
          </button>
        )}
      </div>
      {design?.state.status === 'failed' ? (
        <ProblemNote
          title={words.tunnel.failed}
          problem={design.state.problem}
          onRetry={() => void design.session.reload()}
        />
      ) : design === undefined || open === undefined || row === undefined ? (
        <p className="empty muted" role="status">
          {survey?.status === 'ready' && row === undefined ? words.tunnel.gone : words.loading}
        </p>
      ) : (
        <SheetBody key={row.id} row={row} session={design.session} open={open} objectUrl={objectUrl} />
      )}
    </>
  );
}

type SheetBodyProps = {
  readonly row: TunnelRow;
  readonly session: DesignSession;
  readonly open: OpenDesign;
  readonly objectUrl: string | undefined;
};

function SheetBody({ row, session, open, objectUrl }: SheetBodyProps) {
  // On a narrow screen the editor stays in sight above the list.
  const isNarrow = useMedia(NARROW);
  const { mayEdit } = useRights();
  const drafting = useKeepOutDraft();
  const beginKeepOut = (beacon: Beacon) => {
    drafting.ask(draftAround(beacon, open.network.links));
    // Its editor would leave no room for the form.
    if (isNarrow) session.selectBeacon(undefined);
  };
  const finding = open.shown?.findings.find((one) => one.code === 'complex-not-designed');
  const reason = finding === undefined ? undefined : words.tunnel.notDesigned[String(finding.params.reason)];
  return (
    <>
      {mayEdit && <SaveBar session={session} open={open} />}
      <SaveNotice session={session} open={open} />
      {reason !== undefined && (
        <p className="notice" role="status">
          {reason}
        </p>
      )}
      {isNarrow && open.beaconId !== undefined && (
        <BeaconEditor session={session} open={open} onKeepOut={beginKeepOut} />
      )}
      <div className="sheet-body">
        <TunnelFigures row={row} open={open} objectUrl={objectUrl} />
        <RulesSection session={session} open={open} />
        <KeepOutSection session={session} open={open} drafting={drafting} />
        <ChecksSection session={session} open={open} />
        <RadioSection session={session} open={open} />
        <DriveSection open={open} />
        <BeaconSection session={session} open={open} onKeepOut={beginKeepOut} />
      </div>
    </>
  );
}

function describeRow(row: TunnelRow): string {
  return [
    ...(row.ref === undefined ? [] : [row.ref]),
    words.kinds[row.kind],
    ...(row.restricted ? [words.tunnel.restricted] : []),
    words.status[row.status] === 'none' ? words.tunnel.noBeacons : words.status[row.status],
  ].join(' · ');
}
