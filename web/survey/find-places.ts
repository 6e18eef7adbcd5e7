import type { FeatureCollection } from 'geojson';
import type { BBox, LonLat } from '../../shared/geodesy/lon-lat.ts';
import { moveBy } from '../../shared/geodesy/segment.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';

/** Something with a name in the map data of a survey, and how much around it is meant at first. */
export type Place = {
  readonly key: string;
  readonly name: string;
  /** The value of OpenStreetMap's `place`, or `tunnel`. */
  readonly kind: string;
  readonly at: LonLat;
  /** One of SIDES_KM. */
  readonly sideKm: number;
};

/** Sides of the square around a place that can be chosen, kilometres. */
export const SIDES_KM = [1, 2, 4, 8, 16, 32] as const;

/** As large as such a place usually is. */
const SIDE_OF: Readonly<Record<string, number>> = { city: 16, town: 8, island: 8, suburb: 4, village: 4 };
const OTHER_SIDE_KM = 2;

/** Lists the named places of the map background and the tunnels of a survey, by name. */
export function listPlaces(
  context: FeatureCollection | undefined,
  rows: readonly TunnelRow[],
): readonly Place[] {
  const places = (context?.features ?? []).flatMap(({ id, geometry, properties }): Place[] => {
    const { place, name } = (properties ?? {}) as { place?: string; name?: string };
    if (geometry.type !== 'Point' || place === undefined || name === undefined) return [];
    const at = geometry.coordinates as [number, number];
    return [
      { key: String(id), name, kind: place, at: [at[0], at[1]], sideKm: SIDE_OF[place] ?? OTHER_SIDE_KM },
    ];
  });
  const tunnels = rows.map(({ id, name, bbox: [west, south, east, north] }): Place => {
    const at: LonLat = [(west + east) / 2, (south + north) / 2];
    return { key: id, name, kind: 'tunnel', at, sideKm: OTHER_SIDE_KM };
  });
  return [...places, ...tunnels].sort((a, b) => a.name.localeCompare(b.name, 'en'));
}

/** Finds places whose name has the words in it, whatever their case and accents: those that begin with it first. */
export function findPlaces(places: readonly Place[], words: string): readonly Place[] {
  const wanted = toPlain(words.trim());
  if (wanted === '') return [];
  const found = places.filter(({ name }) => toPlain(name).includes(wanted));
  const begins = ({ name }: Place) => toPlain(name).startsWith(wanted);
  return [...found.filter(begins), ...found.filter((place) => !begins(place))];
}

/** The square around a position, degrees. */
export function boxAround(at: LonLat, sideKm: number): BBox {
  const halfM = (sideKm * 1000) / 2;
  const [west, south] = moveBy(at, -halfM, -halfM);
  const [east, north] = moveBy(at, halfM, halfM);
  // Five decimals, about a metre, as the fields show it: what is shown is what is asked.
  const round = (degrees: number) => Math.round(degrees * 1e5) / 1e5;
  return [round(west), round(south), round(east), round(north)];
}

function toPlain(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
}
