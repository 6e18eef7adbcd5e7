import { beforeEach, describe, expect, it, vi } from 'vitest';
import { makeRuler } from '../../../shared/alignment/make-ruler.ts';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import { moveBy } from '../../../shared/geodesy/segment.ts';
import type { BeaconId } from '../../../shared/placement/beacon.ts';
import type { MapViewProps } from '../map-types.ts';
import { createSlide, type SlideState } from './create-slide.ts';

const start: LonLat = [11, 47];
const line = [start, moveBy(start, 200, 0)];
const id = 'a.1' as BeaconId;
const calls: unknown[][] = [];
const props = {
  selectedBeacon: undefined,
  design: {
    network: { links: [{ id: 'a', line, lengthM: makeRuler(line).lengthM }] },
    beacons: {
      type: 'FeatureCollection',
      features: [
        {
          type: 'Feature',
          id: 't/a.1',
          geometry: { type: 'Point', coordinates: [11, 47] },
          properties: { beacon: 'a.1', link: 'a', chainageM: 40, offsetM: 4, role: 'spacing' },
        },
      ],
    },
    placed: [],
    coverage: { type: 'FeatureCollection', features: [] },
  },
  onSelectBeacon: (...args: unknown[]) => calls.push(['select', ...args]),
  onSlidePreview: (...args: unknown[]) => calls.push(['preview', ...args]),
  onSlide: (...args: unknown[]) => calls.push(['slide', ...args]),
} as unknown as MapViewProps;

let shown: SlideState | undefined;
const open = () =>
  createSlide(
    () => props,
    (state) => (shown = state),
  );

beforeEach(() => {
  calls.length = 0;
  shown = undefined;
  vi.stubGlobal('window', { setTimeout: () => 1, clearTimeout: () => {} });
});

describe('createSlide', () => {
  it('selects, previews on the way, and gives one edit at the end', () => {
    const slide = open();
    expect(slide.begin(id, 'position')).toBe(true);
    slide.moveTo(moveBy(start, 60, 5));
    slide.moveTo(moveBy(start, 70, 5));
    slide.finish();
    const to = { linkId: 'a', chainageM: expect.closeTo(70, 1) };
    expect(calls.map(([name]) => name)).toEqual(['select', 'preview', 'preview', 'slide']);
    expect(calls.at(-1)).toEqual(['slide', id, to, 'position']);
    expect(slide.isActive()).toBe(false);
    // It stays where it was let go until the design has it.
    expect(shown?.to).toEqual(to);
    slide.onDesign();
    expect(shown).toBeUndefined();
  });

  it('gives no edit when given up', () => {
    const slide = open();
    slide.begin(id, 'position');
    slide.moveBy(10);
    slide.cancel();
    slide.finish();
    expect(calls.at(-1)).toEqual(['preview', id, undefined, 'position']);
    expect(calls.some(([name]) => name === 'slide')).toBe(false);
    expect(shown).toBeUndefined();
  });

  it('gives no edit when it comes back to where it stood', () => {
    const slide = open();
    slide.begin(id, 'position');
    slide.moveBy(10);
    slide.moveBy(-10);
    slide.finish();
    expect(calls.some(([name]) => name === 'slide')).toBe(false);
    expect(calls.at(-1)).toEqual(['preview', id, undefined, 'position']);
  });

  it('keeps a beacon under way when the design answers to its preview', () => {
    const slide = open();
    slide.begin(id, 'position');
    slide.moveBy(10);
    slide.onDesign();
    expect(slide.isActive()).toBe(true);
    expect(shown?.to.chainageM).toBe(50);
  });

  it('does not begin with a beacon that the design lacks', () => {
    expect(open().begin('x' as BeaconId, 'position')).toBe(false);
    expect(calls).toEqual([]);
  });
});
