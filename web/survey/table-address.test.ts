import { describe, expect, it } from 'vitest';
import { readTableView, writeTableView } from './table-address.ts';
import { FIRST_VIEW, type TableView } from './table-view.ts';

function write(view: TableView): string {
  const params = new URLSearchParams();
  writeTableView(params, view);
  return params.toString().replaceAll('%2C', ',');
}
const read = (search: string) => readTableView(new URLSearchParams(search));

describe('the table’s part of the address', () => {
  it('is empty for the table as it is at first', () => {
    expect(write(FIRST_VIEW)).toBe('');
    expect(read('')).toEqual(FIRST_VIEW);
  });

  it('says and reads the same', () => {
    const view: TableView = {
      text: 'hill & moor',
      status: 'lacking',
      showsCovered: true,
      showsRestricted: true,
      ranges: { lengthM: { min: 200 }, rank: { max: 10 }, outageS: { min: 0.5, max: 90 } },
      classes: ['motorway', 'trunk_link'],
      assumed: ['traffic', 'maxspeed'],
      columns: ['lengthM', 'status', 'roadClass'],
      sorting: [{ id: 'lengthM', desc: true }],
    };
    expect(write(view)).toBe(
      'q=hill+%26+moor&status=lacking&also=covered,private&length=200..&outage=0.5..90&rank=..10&class=motorway,trunk_link&assumed=traffic,maxspeed&columns=lengthM,status,roadClass&sort=-lengthM',
    );
    expect(read(write(view))).toEqual(view);
    const bare = { ...FIRST_VIEW, columns: [] };
    expect(read(write(bare))).toEqual(bare);
  });

  it.each([
    'status=broken',
    'length=',
    'length=..',
    'length=9..3',
    'length=NaN..',
    'length=-5..',
    'length=1e3..',
    'length=99999999999..',
    'exits=1',
    'class=<script>',
    'assumed=,,',
    'columns=wrong,columns',
    'sort=nothing',
    'sort=lengthM,wrong',
    'sort=lengthM,rank,name,status',
  ])('leaves out what it cannot understand: %s', (search) => {
    expect(read(search)).toEqual(FIRST_VIEW);
  });
});
