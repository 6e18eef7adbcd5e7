import { featureFilter } from '@maplibre/maplibre-gl-style-spec';
import { describe, expect, it } from 'vitest';
import { COLOURS } from '../colours.ts';
import { listLayers } from './build-style.ts';
import { type FilterState, toFilter } from './to-filter.ts';

const show = { galleries: false, restricted: false, coverage: true, findings: false };
const STATE: FilterState = {
  show,
  shownComplexes: undefined,
  selectedComplex: undefined,
  selectedBeacon: undefined,
  designComplex: undefined,
  slidingBeacon: undefined,
};

function shows(layerId: string, state: Partial<FilterState>, properties: Record<string, unknown>): boolean {
  const layer = listLayers(COLOURS.light).find(({ id }) => id === layerId);
  if (layer === undefined) throw new Error(`no layer ${layerId}`);
  const filter = featureFilter(toFilter(layer, { ...STATE, ...state }) as never, 'layers.filter');
  return filter.filter({ zoom: 16 } as never, { type: 2, properties } as never);
}

describe('toFilter', () => {
  const tunnel = { complex: 't1', kind: 'tunnel', restricted: false };
  const gallery = { complex: 't2', kind: 'gallery', restricted: false };
  const garage = { complex: 't3', kind: 'tunnel', restricted: true };

  it('hides galleries and restricted tunnels unless asked for', () => {
    expect([tunnel, gallery, garage].map((bore) => shows('bore-hit', {}, bore))).toEqual([
      true,
      false,
      false,
    ]);
    const all = { show: { ...show, galleries: true, restricted: true } };
    expect([tunnel, gallery, garage].map((bore) => shows('bore-hit', all, bore))).toEqual([true, true, true]);
  });

  it('shows the selected tunnel whatever it is', () => {
    expect(shows('bore-hit', { selectedComplex: 't3' }, garage)).toBe(true);
    expect(shows('bore-hit', { selectedComplex: 't3' }, gallery)).toBe(false);
  });

  it('shows what the table’s filters leave, and the selected one', () => {
    const other = { ...tunnel, complex: 't4' };
    const left = { shownComplexes: ['t4', 't2'] };
    expect([tunnel, other, gallery].map((bore) => shows('bore-hit', left, bore))).toEqual([
      false,
      true,
      false,
    ]);
    expect(shows('bore-hit', { ...left, selectedComplex: 't1' }, tunnel)).toBe(true);
    expect(shows('beacon-icons', left, { complex: 't1' })).toBe(false);
    expect([tunnel, other].map((bore) => shows('bore-hit', { shownComplexes: [] }, bore))).toEqual([
      false,
      false,
    ]);
  });

  it('keeps a layer’s own filter', () => {
    expect(shows('bore-arrows', {}, { ...tunnel, oneway: true })).toBe(true);
    expect(shows('bore-arrows', {}, { ...tunnel, oneway: false })).toBe(false);
  });

  it('leaves the base copy of the tunnel under design to the overlay', () => {
    expect(shows('beacon-icons', { designComplex: 't1' }, { complex: 't1' })).toBe(false);
    expect(shows('beacon-icons', { designComplex: 't1' }, { complex: 't2' })).toBe(true);
  });

  it('draws a beacon once: plain, selected or sliding', () => {
    const layers = ['design-beacon-icons', 'design-beacon-selected'];
    const drawn = (state: Partial<FilterState>) => layers.map((id) => shows(id, state, { beacon: 'a.1' }));
    expect(drawn({})).toEqual([true, false]);
    expect(drawn({ selectedBeacon: 'a.1' as never })).toEqual([false, true]);
    expect(drawn({ selectedBeacon: 'a.1' as never, slidingBeacon: 'a.1' })).toEqual([false, false]);
  });
});
