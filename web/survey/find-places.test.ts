import type { FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import { segmentLengthM } from '../../shared/geodesy/segment.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { boxAround, findPlaces, listPlaces, SIDES_KM } from './find-places.ts';

const point = (id: string, properties: object, at: [number, number] = [10, 50]) =>
  ({ type: 'Feature', id, properties, geometry: { type: 'Point', coordinates: at } }) as const;

const context: FeatureCollection = {
  type: 'FeatureCollection',
  features: [
    point('n1', { place: 'city', name: 'Überquay' }),
    point('n2', { place: 'hamlet', name: 'Old Quay' }, [11, 51]),
    point('n3', { place: 'suburb' }),
    point('n4', { name: 'Quay phone', emergency: 'phone' }),
    { ...point('w5', { name: 'Quay Road' }), geometry: { type: 'LineString', coordinates: [] } },
  ],
};
const rows = [{ id: 't1', name: 'Quayside Tunnel', bbox: [1, 2, 3, 4] }] as unknown as readonly TunnelRow[];

describe('places of the extract', () => {
  const places = listPlaces(context, rows);

  it('are named places and tunnels, as large as their kind', () => {
    expect(places.map(({ name, kind, sideKm }) => [name, kind, sideKm])).toEqual([
      ['Old Quay', 'hamlet', 2],
      ['Quayside Tunnel', 'tunnel', 2],
      ['Überquay', 'city', 16],
    ]);
    expect(places[1]?.at).toEqual([2, 3]);
    for (const { sideKm } of places) expect(SIDES_KM).toContain(sideKm);
  });

  it('are found by a part of the name without case or accents, those that begin with it first', () => {
    expect(findPlaces(places, ' QUAY ').map(({ name }) => name)).toEqual([
      'Quayside Tunnel',
      'Old Quay',
      'Überquay',
    ]);
    expect(findPlaces(places, 'uber').map(({ key }) => key)).toEqual(['n1']);
    expect(findPlaces(places, 'elsewhere')).toEqual([]);
    expect(findPlaces(places, ' ')).toEqual([]);
  });

  it('become a square with the sides that were asked for', () => {
    const [west, south, east, north] = boxAround([-20, 46], 8);
    expect(segmentLengthM([west, 46], [east, 46]) / 1000).toBeCloseTo(8, 1);
    expect(segmentLengthM([-20, south], [-20, north]) / 1000).toBeCloseTo(8, 1);
  });
});
