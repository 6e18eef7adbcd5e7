import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ROAD_CLASSES } from './read-highway.ts';
import { findNotInUse, isRestricted, readRoof } from './read-kind.ts';
import { readLanes } from './read-lanes.ts';
import { readMaxspeed } from './read-maxspeed.ts';
import { readOneway } from './read-oneway.ts';
import { readWidth } from './read-width.ts';

describe('readRoof', () => {
  it.each([
    [{ tunnel: 'yes' }, 'tunnel'],
    [{ tunnel: 'flooded' }, 'tunnel'],
    [{ tunnel: 'no' }, 'open'],
    [{ tunnel: 'false' }, 'open'],
    [{ tunnel: '0' }, 'open'],
    [{ tunnel: 'culvert' }, 'open'],
    [{ tunnel: 'passage' }, 'open'],
    [{ tunnel: 'building_passage' }, 'open'],
    [{ tunnel: 'building_passage', covered: 'yes' }, 'covered'],
    [{ tunnel: 'avalanche_protector' }, 'gallery'],
    [{ covered: 'yes' }, 'covered'],
    [{ covered: 'no' }, 'open'],
    [{ tunnel: 'yes', covered: 'yes' }, 'tunnel'],
  ] as const)('%j is %s', (tags, roof) => {
    expect(readRoof(tags)).toBe(roof);
  });
});

describe('findNotInUse and isRestricted', () => {
  it('tell building sites and closed ways apart from roads', () => {
    expect(findNotInUse({ highway: 'construction', construction: 'primary' })).toBe('construction');
    expect(findNotInUse({ 'abandoned:highway': 'primary' })).toBe('abandoned');
    expect(findNotInUse({ highway: 'primary', construction: 'minor' })).toBeUndefined();
    expect(isRestricted({ access: 'private' })).toBe(true);
    expect(isRestricted({ access: 'no', motor_vehicle: 'yes' })).toBe(false);
    expect(isRestricted({ service: 'parking_aisle' })).toBe(true);
    expect(isRestricted({ service: 'alley' })).toBe(false);
  });
});

describe('readOneway', () => {
  it.each([
    [{ oneway: 'yes' }, 'forward'],
    [{ oneway: '1' }, 'forward'],
    [{ oneway: 'true' }, 'forward'],
    [{ oneway: '-1' }, 'backward'],
    [{ oneway: 'no', highway: 'motorway' }, 'both'],
    [{ oneway: 'reversible' }, 'reversible'],
    [{ junction: 'roundabout' }, 'forward'],
    [{ junction: 'circular' }, 'forward'],
    [{ highway: 'motorway' }, 'forward'],
    [{ highway: 'motorway_link' }, 'both'],
  ] as const)('%j is %s', (tags, oneway) => {
    expect(readOneway(tags)).toEqual({ oneway });
  });
  it('reports what it does not know', () => {
    expect(readOneway({ oneway: 'sometimes' })).toEqual({ oneway: 'both', unreadable: 'sometimes' });
  });
});

describe('readMaxspeed', () => {
  // Miles: 1 mile = 1609.344 m exactly (international yard and pound agreement, 1959; from memory).
  it.each([
    [{ maxspeed: '50' }, 50 / 3.6],
    [{ maxspeed: '30 mph' }, 13.4112],
    [{ maxspeed: '30mph' }, 13.4112],
    [{ maxspeed: '50;30' }, 50 / 3.6],
    [{ maxspeed: 'walk' }, 7 / 3.6],
    [{ maxspeed: 'none' }, 130 / 3.6],
    [{ maxspeed: 'DE:urban' }, 50 / 3.6],
    [{ maxspeed: 'DE:zone:30' }, 30 / 3.6],
    [{ maxspeed: 'FR:zone30' }, 30 / 3.6],
    [{ 'maxspeed:forward': '60', 'maxspeed:backward': '80' }, 80 / 3.6],
    [{ 'maxspeed:type': 'AT:rural' }, 90 / 3.6],
  ])('%j', (tags, speedMps) => {
    const read = readMaxspeed(tags as Record<string, string>, 'primary');
    expect(read.assumed).toBe(false);
    expect(read.speedMps).toBeCloseTo(speedMps, 9);
  });
  it('reads the limit of one direction', () => {
    const tags = { maxspeed: '70', 'maxspeed:backward': '50' };
    expect(readMaxspeed(tags, 'primary', 'forward').speedMps).toBeCloseTo(70 / 3.6, 9);
    expect(readMaxspeed(tags, 'primary', 'backward').speedMps).toBeCloseTo(50 / 3.6, 9);
    expect(readMaxspeed(tags, 'primary').speedMps).toBeCloseTo(70 / 3.6, 9);
  });

  it('assumes by class, and says what it did not understand', () => {
    expect(readMaxspeed({}, 'trunk')).toEqual({ speedMps: 80 / 3.6, assumed: true });
    expect(readMaxspeed({ maxspeed: 'signals' }, 'trunk')).toEqual({ speedMps: 80 / 3.6, assumed: true });
    expect(readMaxspeed({ maxspeed: 'quick' }, 'trunk')).toMatchObject({
      assumed: true,
      unreadable: 'quick',
    });
    expect(readMaxspeed({ maxspeed: '0' }, 'trunk')).toMatchObject({ assumed: true, unreadable: '0' });
  });
});

describe('readLanes and readWidth', () => {
  it('read the usual spellings', () => {
    expect(readLanes({ lanes: '2' }, 'primary', true)).toEqual({ lanes: 2, assumed: false });
    expect(readLanes({ lanes: '2;3' }, 'primary', true)).toEqual({ lanes: 3, assumed: false });
    expect(readLanes({ 'lanes:forward': '2', 'lanes:backward': '1' }, 'primary', false)).toEqual({
      lanes: 3,
      assumed: false,
    });
    expect(readLanes({}, 'motorway', true)).toEqual({ lanes: 2, assumed: true });
    expect(readLanes({ lanes: 'many' }, 'primary_link', true)).toEqual({
      lanes: 1,
      assumed: true,
      unreadable: 'many',
    });
    expect(readWidth({ width: '7.5 m' })).toEqual({ widthM: 7.5 });
    expect(readWidth({ width: '7' })).toEqual({ widthM: 7 });
    expect(readWidth({ width: `24'6"` }).widthM).toBeCloseTo(7.4676, 6);
    expect(readWidth({ width: 'wide' })).toEqual({ unreadable: 'wide' });
    expect(readWidth({})).toEqual({});
  });
});

describe('any tags at all', () => {
  const tags = fc.dictionary(
    fc.constantFrom(
      'maxspeed',
      'lanes',
      'lanes:forward',
      'width',
      'oneway',
      'tunnel',
      'covered',
      'maxspeed:type',
    ),
    fc.oneof(fc.string(), fc.constantFrom('-1', 'NaN', '1e9', ' ', ';;', '999 mph', '0x10', 'DE:zone:0')),
  );
  it('give finite, positive values', () => {
    fc.assert(
      fc.property(tags, fc.constantFrom(...ROAD_CLASSES), (any, roadClass) => {
        const { speedMps } = readMaxspeed(any, roadClass);
        expect(speedMps > 0 && speedMps <= 100).toBe(true);
        const { lanes } = readLanes(any, roadClass, true);
        expect(Number.isInteger(lanes) && lanes > 0 && lanes <= 60).toBe(true);
        const { widthM } = readWidth(any);
        expect(widthM === undefined || (widthM > 0 && widthM <= 60)).toBe(true);
        expect(['forward', 'backward', 'both', 'reversible']).toContain(readOneway(any).oneway);
      }),
      { seed: 5, numRuns: 500 },
    );
  });
});
