import type { MapLibreMap } from 'maplibre-gl';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { findNeighbours } from '../../shared/placement/find-neighbours.ts';
import { formatChainage } from '../ui/format.ts';
import type { MapViewProps } from './map-types.ts';
import { mapWords } from './map-words.ts';
import type { SlideState } from './slide/create-slide.ts';

/**
 * The tag beside the selected beacon: its chainage, and while it is moved the distances to its neighbours.
 * `data-x` and `data-y` are the beacon's place in the container, pixels.
 */
export function createSelectedTag(map: MapLibreMap, tag: HTMLElement, getProps: () => MapViewProps) {
  let slide: SlideState | undefined;

  const place = () => {
    const shown = slide === undefined ? findSelected(getProps()) : fromSlide(slide, getProps());
    tag.hidden = shown === undefined;
    if (shown === undefined) {
      delete tag.dataset.beacon;
      return;
    }
    const { x, y } = map.project([shown.at[0], shown.at[1]]);
    tag.dataset.beacon = shown.id;
    tag.dataset.x = x.toFixed(1);
    tag.dataset.y = y.toFixed(1);
    tag.style.transform = `translate(${Math.round(x)}px, ${Math.round(y)}px)`;
    const label = tag.firstElementChild as HTMLElement;
    if (label.textContent !== shown.text) label.textContent = shown.text;
    keepInside(label, x, map.getContainer().clientWidth);
  };

  map.on('move', place);
  map.on('resize', place);
  return {
    place(state: SlideState | undefined) {
      slide = state;
      place();
    },
  };
}

/** Moves the label sideways where it would be cut off at the map's edge. */
function keepInside(label: HTMLElement, x: number, widthPx: number): void {
  const half = label.offsetWidth / 2 + 4;
  const middle = Math.max(half, Math.min(widthPx - half, x));
  label.style.transform = `translateX(calc(-50% + ${Math.round(middle - x)}px))`;
}

type Shown = { readonly id: string; readonly at: LonLat; readonly text: string };

function findSelected({ design, selectedBeacon }: MapViewProps): Shown | undefined {
  if (selectedBeacon === undefined) return undefined;
  const beacon = design?.beacons.features.find(({ properties }) => properties?.beacon === selectedBeacon);
  if (beacon?.geometry.type !== 'Point') return undefined;
  const [lon, lat] = beacon.geometry.coordinates as [number, number];
  return { id: selectedBeacon, at: [lon, lat], text: formatChainage(Number(beacon.properties?.chainageM)) };
}

function fromSlide({ id, to, position }: SlideState, { design }: MapViewProps): Shown {
  const { beforeM, afterM } = findNeighbours(design?.network.links ?? [], design?.placed ?? [], to, id);
  return {
    id,
    at: position,
    text: `${formatChainage(to.chainageM)} · ${mapWords.neighbours(beforeM, afterM)}`,
  };
}
