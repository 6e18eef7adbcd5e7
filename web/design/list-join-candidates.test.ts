import type { Feature } from 'geojson';
import { describe, expect, it } from 'vitest';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { moveBy } from '../../shared/geodesy/segment.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { listJoinCandidates } from './list-join-candidates.ts';

const origin: LonLat = [10, 50];

/** A straight tunnel of 100 m eastwards that begins so far north of the origin. */
function tunnel(id: string, northM: number, way: number, more: Partial<TunnelRow> = {}) {
  const line = [moveBy(origin, 0, northM), moveBy(origin, 100, northM)] as const;
  const row = {
    id,
    name: `Tunnel ${id}`,
    kind: 'tunnel',
    exitCount: 0,
    lengthM: 100,
    bbox: [line[0][0], line[0][1], line[1][0], line[1][1]],
    ...more,
  } as TunnelRow;
  const bore: Feature = {
    type: 'Feature',
    properties: { complex: id, osmWays: [way] },
    geometry: { type: 'LineString', coordinates: line.map((at) => [...at]) },
  };
  return { row, bore };
}

const own = tunnel('own', 0, 1);
const far = tunnel('far', 300, 2);
const near = tunnel('near', -40, 3, { ref: 'A7' });
const gallery = tunnel('gallery', 10, 4, { kind: 'gallery' });
const all = [own, far, near, gallery];

function list(text: string, tunnels = all) {
  return listJoinCandidates(
    own.row,
    tunnels.map(({ row }) => row),
    tunnels.map(({ bore }) => bore),
    text,
  );
}

describe('tunnels that could be joined', () => {
  it('are the others of the same kind, nearest first, each with a way of both sides', () => {
    const { candidates, farther } = list('');
    expect(candidates.map(({ row, ways }) => [row.id, ways])).toEqual([
      ['near', [1, 3]],
      ['far', [1, 2]],
    ]);
    expect(candidates.map(({ distanceM }) => Math.round(distanceM))).toEqual([40, 300]);
    expect(farther).toBe(0);
  });

  it('are found by name and road number', () => {
    expect(list('a7').candidates.map(({ row }) => row.id)).toEqual(['near']);
    expect(list('tunnel far').candidates.map(({ row }) => row.id)).toEqual(['far']);
    expect(list('nowhere')).toEqual({ candidates: [], farther: 0 });
  });

  it('are the nearest of many; the rest is counted', () => {
    const many = [own, ...Array.from({ length: 30 }, (_, i) => tunnel(`m${i}`, 3000 - i * 50, 100 + i))];
    const { candidates, farther } = list('', many);
    expect(candidates[0]?.row.id).toBe('m29');
    expect([candidates.length, farther]).toEqual([20, 10]);
  });
});
