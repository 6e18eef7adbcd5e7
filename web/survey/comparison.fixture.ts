import type { Comparison } from '../../shared/wire/comparison.ts';

/** A newer extract that changes a little of everything. */
export const comparison: Comparison = {
  extractId: 'extract-2',
  surveyRevision: 7,
  before: { name: 'city.osm', timestamp: '2026-01-01T00:00:00Z' },
  after: { name: 'city-new.osm', timestamp: '2026-03-01T00:00:00Z' },
  complexes: [
    {
      id: 't1',
      name: 'Harbour Tunnel',
      change: 'changed',
      others: [],
      facets: ['shape', 'limits'],
      lengthBeforeM: 1712,
      lengthAfterM: 1730.2,
      at: [10, 50],
    },
    {
      id: 't2',
      name: 'Castle Tunnel',
      change: 'joined',
      others: ['t3'],
      facets: ['shape'],
      lengthBeforeM: 400,
      lengthAfterM: 800,
      at: [10.1, 50],
    },
    { id: 't4', change: 'vanished', others: [], facets: [], lengthBeforeM: 90, at: [10.2, 50] },
  ],
  links: [
    {
      id: '11-1-2',
      complexId: 't1',
      change: 'moved',
      others: [],
      osmWays: [11],
      lengthBeforeM: 1712,
      lengthAfterM: 1730.2,
      greatestShiftM: 20.4,
      lineBefore: [
        [10, 50],
        [10.01, 50],
      ],
      lineAfter: [
        [10, 50],
        [10.005, 50.0002],
        [10.01, 50],
      ],
    },
    {
      id: '12-3-4',
      complexId: 't4',
      change: 'vanished',
      others: [],
      osmWays: [12, 13],
      lengthBeforeM: 90,
      lineBefore: [
        [10.2, 50],
        [10.201, 50],
      ],
    },
  ],
  beacons: [
    beacon('t4', 'x.1', { change: 'removed', kept: 'none', fromAt: [10.2, 50] }),
    beacon('t1', 'a.2', { shiftM: 12.3 }),
    beacon('t1', 'a.3', { shiftM: 4.5, locked: true, kept: 'place' }),
    beacon('t1', 'a.1', { shiftM: 20.1 }),
  ],
  unchanged: { complexes: 18, links: 30, beacons: 400 },
  greatestBeaconShiftM: 20.1,
  notes: [],
};

function beacon(
  complexId: string,
  id: string,
  more: Partial<Comparison['beacons'][number]>,
): Comparison['beacons'][number] {
  const isRemoved = more.change === 'removed';
  return {
    complexId,
    id,
    change: 'moved',
    locked: false,
    kept: 'chainage',
    from: { linkId: 'a', chainageM: 340 },
    fromAt: [10.004, 50],
    ...(isRemoved ? {} : { to: { linkId: 'a', chainageM: 1361 }, toAt: [10.0041, 50.0001] }),
    ...more,
  };
}
