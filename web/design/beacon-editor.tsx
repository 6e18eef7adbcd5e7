import { useState } from 'react';
import { ANCHORS, type Pin } from '../../shared/placement/beacon.ts';
import { findNeighbours } from '../../shared/placement/find-neighbours.ts';
import { type DesignSession, findPlace } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatChainage, formatNumber, parseChainage } from '../ui/format.ts';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { words } from '../words.ts';

type BeaconEditorProps = { readonly session: DesignSession; readonly open: OpenDesign };

/** Where the chosen beacon stands, and ways to move it or to give it back to the rules. */
export function BeaconEditor({ session, open }: BeaconEditorProps) {
  const isNarrow = useMedia(NARROW);
  const beacon = open.shown?.design.beacons.find((one) => one.id === open.beaconId);
  if (beacon === undefined) {
    return <p className="beacon-editor muted">{words.beacons.hint}</p>;
  }
  const at = findPlace(open, beacon.id) ?? beacon.at;
  const link = open.network.links.find((one) => one.id === at.linkId);
  const { beforeM, afterM } = findNeighbours(
    open.network.links,
    open.shown?.design.beacons ?? [],
    at,
    beacon.id,
  );
  const pin = open.scheme.pinned.find((one) => one.id === beacon.id);
  const metres = (value: number | undefined) => (value === undefined ? undefined : formatNumber(value, 1));
  const lengthM = link?.lengthM ?? 0;
  return (
    <div className="beacon-editor">
      <p role="status">
        <strong>{words.beacons.selected(formatChainage(at.chainageM))}</strong>
        <span className="muted"> {words.beacons.neighbours(metres(beforeM), metres(afterM))}</span>
      </p>
      <div className="beacon-tools">
        <ChainageField
          key={beacon.id}
          valueM={at.chainageM}
          lengthM={lengthM}
          onCommit={(chainageM) =>
            session.commit({
              kind: 'slideBeacon',
              beaconId: beacon.id,
              to: { linkId: at.linkId, chainageM },
              anchor: 'chainage',
            })
          }
        />
        <button type="button" aria-label={words.beacons.back} onClick={() => session.nudge(beacon.id, -1)}>
          −1
        </button>
        <button type="button" aria-label={words.beacons.forward} onClick={() => session.nudge(beacon.id, 1)}>
          +1
        </button>
        <button
          type="button"
          title={words.beacons.releaseNote}
          aria-label={words.beacons.release}
          disabled={pin === undefined}
          onClick={() => session.commit({ kind: 'releaseBeacon', beaconId: beacon.id })}
        >
          {isNarrow ? words.beacons.releaseShort : words.beacons.release}
        </button>
      </div>
      {pin !== undefined && <AnchorChoice session={session} pin={pin} />}
      <p className="muted keys">{words.beacons.keys}</p>
    </div>
  );
}

type AnchorChoiceProps = { readonly session: DesignSession; readonly pin: Pin };

/** What a beacon that a person moved keeps when newer map data draw its bore elsewhere. */
function AnchorChoice({ session, pin }: AnchorChoiceProps) {
  return (
    <fieldset className="anchor">
      <legend>{words.beacons.anchor}</legend>
      <div className="segments">
        {ANCHORS.map((anchor) => (
          <label key={anchor} title={words.beacons.anchorNotes[anchor]}>
            <input
              type="radio"
              name="anchor"
              checked={pin.anchor === anchor}
              onChange={() => session.commit({ kind: 'setAnchor', beaconId: pin.id, anchor })}
            />
            {words.beacons.anchors[anchor]}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

type ChainageFieldProps = {
  readonly valueM: number;
  readonly lengthM: number;
  readonly onCommit: (chainageM: number) => void;
};

/** A chainage to be typed, in metres or as kilometres+metres; kept when left or on Enter. */
function ChainageField({ valueM, lengthM, onCommit }: ChainageFieldProps) {
  const [text, setText] = useState<string>();
  const typed = text === undefined ? undefined : parseChainage(text);
  const isBad = text !== undefined && (typed === undefined || typed > lengthM);
  const length = formatNumber(lengthM, 1);
  const commit = () => {
    if (!isBad && typed !== undefined && Math.abs(typed - valueM) >= 0.05) onCommit(typed);
    setText(undefined);
  };
  return (
    <label className="chainage">
      {words.beacons.chainage}
      <input
        type="text"
        inputMode="decimal"
        autoComplete="off"
        value={text ?? valueM.toFixed(1)}
        aria-invalid={isBad}
        onChange={(event) => setText(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter' && !isBad) commit();
          if (event.key === 'Escape') setText(undefined);
        }}
      />
      <span className={isBad ? 'bad' : 'muted of-length'} role={isBad ? 'alert' : undefined}>
        {isBad ? words.beacons.outOfRange(length) : words.beacons.chainageOf(length)}
      </span>
    </label>
  );
}
