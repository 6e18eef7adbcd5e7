import { describe, expect, it } from 'vitest';
import { listActiveFilters } from './list-active-filters.ts';
import { clearFilters, FIRST_VIEW, type TableView } from './table-view.ts';

const view: TableView = {
  ...FIRST_VIEW,
  text: ' hill ',
  status: 'lacking',
  ranges: {
    exitCount: { min: 1 },
    lengthM: { min: 200, max: 1500 },
    rank: { max: 3 },
    decisionCount: { min: 2, max: 2 },
  },
  classes: ['motorway', 'trunk_link'],
  assumed: ['traffic'],
};

describe('the filters in use', () => {
  it('are none at first', () => {
    expect(listActiveFilters(FIRST_VIEW)).toEqual([]);
    // Kinds that are hidden at first are a switch of their own.
    expect(listActiveFilters({ ...FIRST_VIEW, showsCovered: true })).toEqual([]);
  });

  it('say what they leave, with units', () => {
    expect(listActiveFilters(view).map(({ label }) => label)).toEqual([
      '“hill”',
      'Lack beacons',
      'Exits underground ≥ 1',
      'Decision points 2',
      'Length 200 m to 1,500 m',
      'Rank ≤ 3',
      'motorway',
      'trunk link',
      'Assumed: traffic (by road class)',
    ]);
  });

  it('are gone one by one, and all at once', () => {
    let left = view;
    for (let count = listActiveFilters(left).length; count > 0; count -= 1) {
      const [first] = listActiveFilters(left);
      left = first?.without ?? left;
      expect(listActiveFilters(left)).toHaveLength(count - 1);
    }
    expect(listActiveFilters(clearFilters(view))).toEqual([]);
  });
});
