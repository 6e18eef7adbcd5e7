import { useRef } from 'react';
import type { BBox, LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { BeaconId } from '../../shared/placement/beacon.ts';
import type { MapFocus } from '../map/map-types.ts';
import type { OpenDesign } from '../session/design-state.ts';
import type { OpenSurvey } from '../session/survey-session.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { useStore } from '../ui/use-store.ts';
import { useSessions } from './sessions.ts';

/** Where the map should go: to a survey or tunnel that was opened, to a place that was asked for; once each. */
export function useMapFocus(
  survey: OpenSurvey | undefined,
  open: OpenDesign | undefined,
  chosenOnMap: BeaconId | undefined,
): MapFocus | undefined {
  const { view } = useSessions();
  const { address, goTo, spot } = useStore(view);
  const last = useRef<MapFocus | undefined>(undefined);
  const opened = useRef<string | undefined>(undefined);
  const asked = useRef(0);
  const followed = useRef<BeaconId | undefined>(undefined);
  if (survey !== undefined) {
    const key = `${survey.id}/${address.tunnel ?? ''}`;
    if (key !== opened.current) {
      const isStart = opened.current === undefined;
      const isSameSurvey = opened.current?.startsWith(`${survey.id}/`) === true;
      opened.current = key;
      const tunnel = survey.rows.find((row) => row.id === address.tunnel);
      // A place in the address at the start wins; closing a tunnel leaves the map where it is.
      if (isStart && address.map !== undefined) last.current = undefined;
      else if (tunnel !== undefined) last.current = { key, bbox: tunnel.bbox };
      else if (!isSameSurvey && !isStart) last.current = { key, bbox: boundsOf(survey.rows) };
    }
  }
  if (goTo !== undefined && goTo.id !== asked.current) {
    asked.current = goTo.id;
    last.current = {
      key: `asked/${goTo.id}`,
      ...(spot === undefined ? { bbox: goTo.bounds } : { at: spot }),
    };
  }
  const beaconId = open?.beaconId;
  if (beaconId !== followed.current) {
    followed.current = beaconId;
    const at = beaconId === undefined || beaconId === chosenOnMap ? undefined : findBeacon(open, beaconId);
    if (at !== undefined) last.current = { key: `beacon/${beaconId}`, at };
  }
  return last.current;
}

function findBeacon(open: OpenDesign | undefined, id: BeaconId): LonLat | undefined {
  const [lon, lat] =
    open?.shown?.beacons.find(({ properties }) => properties?.beacon === id)?.geometry.coordinates ?? [];
  return lon === undefined || lat === undefined ? undefined : [lon, lat];
}

function boundsOf(rows: readonly TunnelRow[]): BBox {
  return [
    Math.min(...rows.map((row) => row.bbox[0])),
    Math.min(...rows.map((row) => row.bbox[1])),
    Math.max(...rows.map((row) => row.bbox[2])),
    Math.max(...rows.map((row) => row.bbox[3])),
  ];
}
