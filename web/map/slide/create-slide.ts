import type { Feature, FeatureCollection, Point } from 'geojson';
import type { LineAddress } from '../../../shared/alignment/line-address.ts';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import type { LinkId } from '../../../shared/network/network.ts';
import type { Anchor, BeaconId } from '../../../shared/placement/beacon.ts';
import type { MapViewProps } from '../map-types.ts';
import { makeTrack, type Track } from './slide-on-link.ts';

/** A beacon under way: where it is now, and the feature that shows it. */
export type SlideState = {
  readonly id: BeaconId;
  readonly to: LineAddress;
  readonly position: LonLat;
  readonly shown: FeatureCollection<Point>;
};

/** One slide at a time, by pointer or by keys: previews on the way, one edit at the end, or nothing. */
export type Slide = {
  /**
   * False where the beacon is not one of the design's, or nothing may be moved. `anchor`: what is meant by moving it, a place that is
   * pointed at or a chainage.
   */
  begin(id: BeaconId, anchor: Anchor): boolean;
  moveTo(cursor: LonLat): void;
  moveBy(byM: number): void;
  finish(): void;
  cancel(): void;
  /** The design changed: a beacon that was let go is now drawn by it. */
  onDesign(): void;
  /** Undefined when none is under way; a beacon that was let go counts until the design has it. */
  state(): SlideState | undefined;
  isActive(): boolean;
  dispose(): void;
};

/** How long a beacon that was let go stays where it was dropped, should the design never change. */
const LET_GO_MS = 1500;

/** Holds the slide; `onChange` shows it. */
export function createSlide(
  getProps: () => MapViewProps,
  onChange: (state: SlideState | undefined) => void,
): Slide {
  let under:
    | { track: Track; feature: Feature; start: LineAddress; anchor: Anchor; isOpen: boolean }
    | undefined;
  let state: SlideState | undefined;
  let timer = 0;

  const show = (next: SlideState | undefined) => {
    state = next;
    onChange(next);
  };
  const moveTo = (to: LineAddress) => {
    if (under === undefined || state === undefined || to.chainageM === state.to.chainageM) return;
    show(toState(state.id, to, under.track, under.feature));
    getProps().onSlidePreview(state.id, to, under.anchor);
  };
  const end = () => {
    window.clearTimeout(timer);
    under = undefined;
    show(undefined);
  };

  return {
    begin(id, anchor) {
      window.clearTimeout(timer);
      const { design, selectedBeacon, isReadOnly } = getProps();
      if (isReadOnly) return false;
      const feature = design?.beacons.features.find(({ properties }) => properties?.beacon === id);
      if (design === undefined || feature === undefined) return false;
      const start = addressOf(feature);
      const track = makeTrack(design.network, { at: start, offsetM: Number(feature.properties?.offsetM) });
      if (track === undefined) return false;
      under = { track, feature, start, anchor, isOpen: true };
      if (selectedBeacon !== id) getProps().onSelectBeacon(id);
      show(toState(id, start, track, feature));
      return true;
    },
    moveTo(cursor) {
      if (under?.isOpen) moveTo(under.track.toAddress(cursor));
    },
    moveBy(byM) {
      if (under?.isOpen && state !== undefined) moveTo(under.track.moveBy(state.to, byM));
    },
    finish() {
      if (under === undefined || state === undefined || !under.isOpen) return;
      if (state.to.chainageM === under.start.chainageM) {
        getProps().onSlidePreview(state.id, undefined, under.anchor);
        end();
        return;
      }
      under.isOpen = false;
      timer = window.setTimeout(end, LET_GO_MS);
      getProps().onSlide(state.id, state.to, under.anchor);
    },
    cancel() {
      if (under === undefined || state === undefined || !under.isOpen) return;
      getProps().onSlidePreview(state.id, undefined, under.anchor);
      end();
    },
    onDesign() {
      if (under !== undefined && !under.isOpen) end();
    },
    state: () => state,
    isActive: () => under?.isOpen === true,
    dispose: () => window.clearTimeout(timer),
  };
}

function addressOf({ properties }: Feature): LineAddress {
  return { linkId: properties?.link as LinkId, chainageM: Number(properties?.chainageM) };
}

function toState(id: BeaconId, to: LineAddress, track: Track, feature: Feature): SlideState {
  const position = track.toPosition(to);
  const shown: Feature<Point> = {
    type: 'Feature',
    properties: { ...feature.properties, chainageM: to.chainageM },
    geometry: { type: 'Point', coordinates: [...position] },
  };
  return { id, to, position, shown: { type: 'FeatureCollection', features: [shown] } };
}
