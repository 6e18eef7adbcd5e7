import type { Beacon } from '../../shared/placement/beacon.ts';
import { findNeighbours } from '../../shared/placement/find-neighbours.ts';
import { accountWords } from '../account-words.ts';
import { useRights } from '../app/use-rights.ts';
import { type DesignSession, findPlace } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { findWall, toSlide } from '../session/to-slide.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { words } from '../words.ts';
import { AnchorChoice, RadiusField, WallChoice } from './beacon-choices.tsx';
import { ChainageField } from './chainage-field.tsx';

type BeaconEditorProps = {
  readonly session: DesignSession;
  readonly open: OpenDesign;
  /** Begins a keep-out around the beacon. */
  readonly onKeepOut: (beacon: Beacon) => void;
};

/** Where the chosen beacon stands, and ways to move it or to give it back to the rules. */
export function BeaconEditor({ session, open, onKeepOut }: BeaconEditorProps) {
  const isNarrow = useMedia(NARROW);
  const { mayEdit } = useRights();
  const shown = open.shown?.design.beacons.find((one) => one.id === open.beaconId);
  if (shown === undefined) {
    return <p className="beacon-editor muted">{mayEdit ? words.beacons.hint : accountWords.beaconHint}</p>;
  }
  const at = findPlace(open, shown.id) ?? shown.at;
  const beacon = { ...shown, at, side: findWall(open, shown.id) ?? shown.side };
  const link = open.network.links.find((one) => one.id === at.linkId);
  const { beforeM, afterM } = findNeighbours(
    open.network.links,
    open.shown?.design.beacons ?? [],
    at,
    beacon.id,
  );
  const pin = open.scheme.pinned.find((one) => one.id === beacon.id);
  const metres = (value: number | undefined) => (value === undefined ? undefined : formatNumber(value, 1));
  const more = (
    <>
      <div className="beacon-tools">
        <WallChoice
          wall={beacon.side}
          onChange={(wall) => session.commit(toSlide(open, beacon.id, at, pin?.anchor ?? 'chainage', wall))}
        />
        <RadiusField key={beacon.id} session={session} open={open} beacon={beacon} pin={pin} />
        {mayEdit && (
          <button type="button" title={words.keepOuts.hereNote} onClick={() => onKeepOut(beacon)}>
            {words.keepOuts.here}
          </button>
        )}
      </div>
      {pin !== undefined && <AnchorChoice session={session} pin={pin} />}
    </>
  );
  return (
    <div className="beacon-editor">
      <p role="status">
        <strong>{words.beacons.selected(formatChainage(at.chainageM))}</strong>
        <span className="muted"> {words.beacons.neighbours(metres(beforeM), metres(afterM))}</span>
      </p>
      <fieldset className="bare" disabled={!mayEdit}>
        <div className="beacon-tools">
          <ChainageField
            key={beacon.id}
            valueM={at.chainageM}
            lengthM={link?.lengthM ?? 0}
            onCommit={(chainageM) =>
              session.commit(toSlide(open, beacon.id, { linkId: at.linkId, chainageM }, 'chainage'))
            }
          />
          {mayEdit && (
            <>
              <button
                type="button"
                aria-label={words.beacons.back}
                onClick={() => session.nudge(beacon.id, -1)}
              >
                −1
              </button>
              <button
                type="button"
                aria-label={words.beacons.forward}
                onClick={() => session.nudge(beacon.id, 1)}
              >
                +1
              </button>
              <LockButton session={session} open={open} beacon={beacon} isLocked={pin !== undefined} />
            </>
          )}
        </div>
        {isNarrow ? (
          <details>
            <summary>{words.beacons.more}</summary>
            {more}
          </details>
        ) : (
          more
        )}
      </fieldset>
      {mayEdit && <p className="muted keys">{words.beacons.keys}</p>}
    </div>
  );
}

type LockButtonProps = {
  readonly session: DesignSession;
  readonly open: OpenDesign;
  readonly beacon: Beacon;
  readonly isLocked: boolean;
};

/** Keeps a beacon where the rules have put it, or gives it back to them. */
function LockButton({ session, open, beacon, isLocked }: LockButtonProps) {
  const isNarrow = useMedia(NARROW);
  return isLocked ? (
    <button
      type="button"
      title={words.beacons.releaseNote}
      aria-label={words.beacons.release}
      onClick={() => session.commit({ kind: 'releaseBeacon', beaconId: beacon.id })}
    >
      {isNarrow ? words.beacons.releaseShort : words.beacons.release}
    </button>
  ) : (
    <button
      type="button"
      title={words.beacons.lockNote}
      onClick={() => session.commit(toSlide(open, beacon.id, beacon.at, 'chainage'))}
    >
      {words.beacons.lock}
    </button>
  );
}
