import { type KeyboardEvent, useRef, useState } from 'react';
import { ANCHORS, type Beacon, type Pin, WALLS, type Wall } from '../../shared/placement/beacon.ts';
import { NUMBER_RULES } from '../../shared/placement/rules.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { words } from '../words.ts';

type WallChoiceProps = { readonly wall: Wall; readonly onChange: (wall: Wall) => void };

/** Which wall carries the chosen beacon. */
export function WallChoice({ wall, onChange }: WallChoiceProps) {
  return (
    <fieldset className="anchor wall">
      <legend>{words.beacons.wall}</legend>
      <div className="segments">
        {WALLS.map((one) => (
          <label key={one}>
            <input type="radio" name="beacon-wall" checked={one === wall} onChange={() => onChange(one)} />
            {words.beacons.walls[one]}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

type AnchorChoiceProps = { readonly session: DesignSession; readonly pin: Pin };

/** What a beacon that a person moved keeps when newer map data draw its bore elsewhere. */
export function AnchorChoice({ session, pin }: AnchorChoiceProps) {
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

type RadiusFieldProps = {
  readonly session: DesignSession;
  readonly open: OpenDesign;
  readonly beacon: Beacon;
  readonly pin: Pin | undefined;
};

/** How far the chosen beacon is heard: the tunnel's value, or one of its own, which locks it. */
export function RadiusField({ session, open, beacon, pin }: RadiusFieldProps) {
  const [text, setText] = useState<string>();
  const input = useRef<HTMLInputElement>(null);
  const { min, max } = NUMBER_RULES.coverageRadiusM;
  const heardM = open.shown?.design.coverage.find(({ beaconId }) => beaconId === beacon.id)?.radiusM;
  const valueM = pin?.radiusM ?? heardM;
  const typed = text === undefined ? undefined : toNumber(text);
  const isBad = text !== undefined && !(typed !== undefined && typed >= min && typed <= max);
  const set = (radiusM: number | null) => {
    const { id: beaconId, at, side: wall } = beacon;
    session.commit({ kind: 'setRadius', beaconId, at, wall, radiusM });
  };
  const commit = () => {
    if (!isBad && typed !== undefined && typed !== valueM) set(typed);
    setText(undefined);
  };
  const key = (event: KeyboardEvent) => {
    if (event.key === 'Enter' && !isBad) commit();
    if (event.key !== 'Escape' || text === undefined) return;
    event.stopPropagation();
    setText(undefined);
  };
  return (
    <span className="radius">
      <label>
        {words.beacons.radius}
        <input
          ref={input}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={text ?? toText(valueM)}
          aria-invalid={isBad}
          onChange={(event) => setText(event.target.value)}
          onBlur={commit}
          onKeyDown={key}
        />
      </label>
      {isBad && (
        <span className="bad" role="alert">
          {words.beacons.radiusRange(min, max)}
        </span>
      )}
      {pin?.radiusM !== undefined && (
        <button
          type="button"
          className="link"
          aria-label={words.beacons.radiusResetLong}
          onClick={(event) => {
            // The button goes away; pressed by key, the focus stays beside it (a tap would bring up the keyboard).
            if (event.detail === 0) input.current?.focus();
            set(null);
          }}
        >
          {words.beacons.radiusReset}
        </button>
      )}
    </span>
  );
}

function toNumber(text: string): number | undefined {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() === '' || Number.isNaN(value) ? undefined : value;
}

function toText(valueM: number | undefined): string {
  return valueM === undefined ? '' : String(Math.round(valueM * 10) / 10);
}
