import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findDrivingSide } from './find-driving-side.ts';
import { ROAD_CLASSES } from './read-highway.ts';
import { findNotInUse, isRestricted, readRoof } from './read-kind.ts';
import { readLanes } from './read-lanes.ts';
import { readMaxspeed } from './read-maxspeed.ts';
import { readOneway } from './read-oneway.ts';
import { type DrivingSide, readPlacement } from './read-placement.ts';
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
    [{ 'maxspeed:type': 'AT:rural' }, 100 / 3.6],
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

  // Keys and values as the OSM wiki describes them (Key:maxspeed, Key:source:maxspeed, Key:zone:maxspeed; from memory).
  it.each([
    [{ 'zone:maxspeed': '30' }, 30 / 3.6],
    [{ 'zone:maxspeed': 'DE:30' }, 30 / 3.6],
    [{ 'source:maxspeed': 'FR:zone30' }, 30 / 3.6],
    [{ 'maxspeed:type': 'sign', 'source:maxspeed': 'DE:urban' }, 50 / 3.6],
    [{ 'source:maxspeed': 'DE:rural' }, 100 / 3.6],
    [{ 'source:maxspeed': 'FR:rural' }, 80 / 3.6],
    [{ 'maxspeed:type': 'BE-VLG:urban' }, 50 / 3.6],
    // The British law counts in miles: 60 mph is 26.8224 m/s, 20 mph 8.9408.
    [{ 'maxspeed:type': 'GB:nsl_single' }, 26.8224],
    [{ 'maxspeed:type': 'GB:zone20' }, 8.9408],
    // A number comes before a zone.
    [{ maxspeed: '40', 'zone:maxspeed': 'DE:30' }, 40 / 3.6],
    [{ maxspeed: '50;80' }, 80 / 3.6],
    [{ 'maxspeed:lanes': '80|100' }, 100 / 3.6],
    [{ maxspeed: '70', 'maxspeed:lanes': '80|100' }, 70 / 3.6],
    // Advice is no limit.
    [{ maxspeed: '80', 'maxspeed:advisory': '40' }, 80 / 3.6],
  ])('%j is read, not assumed', (tags, speedMps) => {
    const read = readMaxspeed(tags as Record<string, string>, 'primary');
    expect(read).toEqual({ speedMps: expect.closeTo(speedMps, 9), assumed: false });
  });

  it.each([
    [{ maxspeed: '80', 'maxspeed:variable': 'yes' }, 80, false],
    [{ maxspeed: '80', 'maxspeed:conditional': '60 @ (22:00-06:00; wet); 40 @ snow' }, 80, false],
    [{ maxspeed: '80', 'maxspeed:conditional': '100 @ (20:00-06:00)' }, 100, false],
    [{ maxspeed: '80', 'maxspeed:forward:conditional': '120 @ (20:00-06:00)' }, 120, false],
    [{ maxspeed: 'signals' }, 50, true],
    [{ maxspeed: 'signals', 'maxspeed:lanes': '100|80' }, 100, false],
    // Outside of its hours the default holds, which is higher.
    [{ 'maxspeed:conditional': '30 @ (07:00-17:00)' }, 50, true],
  ])('%j varies: the highest of it', (tags, kmh, assumed) => {
    const read = readMaxspeed(tags as Record<string, string>, 'primary');
    expect(read).toEqual({ speedMps: expect.closeTo(kmh / 3.6, 9), assumed, variable: true });
  });

  it('takes a condition of the other direction for none', () => {
    const tags = { maxspeed: '80', 'maxspeed:backward:conditional': '100 @ wet' };
    expect(readMaxspeed(tags, 'primary', 'forward')).toEqual({ speedMps: 80 / 3.6, assumed: false });
    expect(readMaxspeed(tags, 'primary', 'backward').speedMps).toBeCloseTo(100 / 3.6, 9);
  });

  it('assumes by class, and says what it did not understand', () => {
    expect(readMaxspeed({}, 'trunk')).toEqual({ speedMps: 80 / 3.6, assumed: true });
    expect(readMaxspeed({ maxspeed: 'quick' }, 'trunk')).toMatchObject({
      assumed: true,
      unreadable: 'quick',
    });
    expect(readMaxspeed({ maxspeed: '0' }, 'trunk')).toMatchObject({ assumed: true, unreadable: '0' });
    expect(readMaxspeed({ maxspeed: '50;fast' }, 'trunk')).toEqual({
      speedMps: 50 / 3.6,
      assumed: false,
      unreadable: 'fast',
    });
    expect(readMaxspeed({ maxspeed: '50', 'maxspeed:conditional': 'slow @ wet' }, 'trunk')).toEqual({
      speedMps: 50 / 3.6,
      assumed: false,
      unreadable: 'slow',
    });
    expect(readMaxspeed({ 'maxspeed:type': 'DE:elsewhere' }, 'trunk').unreadable).toBe('DE:elsewhere');
    expect(readMaxspeed({ 'maxspeed:advisory': '40' }, 'trunk').assumed).toBe(true);
  });

  it('assumes what a state has decided for itself and the table does not hold, or a lane lacks', () => {
    expect(readMaxspeed({ maxspeed: 'LI:rural' }, 'primary')).toEqual({ speedMps: 90 / 3.6, assumed: true });
    expect(readMaxspeed({ 'maxspeed:lanes': '40|' }, 'primary')).toEqual({
      speedMps: 50 / 3.6,
      assumed: true,
    });
  });
});

describe('readPlacement', () => {
  const side = (drivingSide?: DrivingSide) => () => drivingSide;
  const oneWay = { lanes: 3, direction: 'forward', reversed: false, findDrivingSide: side() } as const;
  const twoWay = { ...oneWay, direction: 'both', findDrivingSide: side('right') } as const;

  // Three lanes from the left edge: their middle is at 1.5.
  it.each([
    ['left_of:1', 1.5],
    ['middle_of:1', 1],
    ['right_of:1', 0.5],
    ['middle_of:2', undefined],
    ['left_of:3', -0.5],
    ['right_of:3', -1.5],
  ] as const)('%s of three lanes: the middle is %s lanes to the right', (placement, centreLanes) => {
    expect(readPlacement({ placement }, oneWay)).toEqual(centreLanes === undefined ? {} : { centreLanes });
  });

  it('reads the direction of the traffic on a one-way way', () => {
    const tags = { 'placement:backward': 'right_of:1' };
    expect(readPlacement(tags, { ...oneWay, reversed: true })).toEqual({ centreLanes: 0.5 });
    expect(readPlacement(tags, oneWay)).toEqual({ unreadable: 'right_of:1' });
  });

  // Two lanes forward, one backward, three in all; seen in the way's order.
  it.each([
    // Traffic keeps right: B | F F. The line between the directions is at 1.
    ['right', { 'placement:forward': 'left_of:1' }, 0.5],
    ['right', { 'placement:backward': 'left_of:1' }, 0.5],
    ['right', { 'placement:forward': 'left_of:1', 'placement:backward': 'left_of:1' }, 0.5],
    ['right', { 'placement:forward': 'right_of:2' }, -1.5],
    // Traffic keeps left: F F | B. The line between the directions is at 2.
    ['left', { 'placement:forward': 'right_of:2' }, -0.5],
    ['left', { 'placement:backward': 'right_of:1' }, -0.5],
    ['left', { 'placement:forward': 'left_of:1' }, 1.5],
  ] as const)('where traffic keeps %s, %j', (drivingSide, placement, centreLanes) => {
    const tags = { lanes: '3', 'lanes:forward': '2', ...placement };
    const read = readPlacement(tags, { ...twoWay, findDrivingSide: side(drivingSide) });
    expect(read).toEqual({ centreLanes });
  });

  it.each([
    ['a lane that is not there', { placement: 'right_of:4' }, oneWay],
    ['no lane at all', { placement: 'right_of:0' }, oneWay],
    ['another word', { placement: 'beside:1' }, oneWay],
    ['lanes that are not known', { placement: 'right_of:1' }, { ...oneWay, lanes: undefined }],
    ['one value for two directions', { lanes: '4', placement: 'right_of:1' }, twoWay],
    ['an odd number of lanes', { lanes: '3', 'placement:forward': 'left_of:1' }, twoWay],
    [
      'directions that differ',
      { lanes: '4', 'placement:forward': 'left_of:1', 'placement:backward': 'right_of:1' },
      twoWay,
    ],
    [
      'a side that is not known',
      { lanes: '4', 'placement:forward': 'left_of:2' },
      { ...twoWay, findDrivingSide: side() },
    ],
  ] as const)('does not guess: %s', (_, tags, way) => {
    expect(readPlacement(tags, way).unreadable).toBeDefined();
    expect(readPlacement(tags, way).centreLanes).toBeUndefined();
  });

  it('says nothing of a line that moves, or without a value', () => {
    expect(readPlacement({ placement: 'transition' }, oneWay)).toEqual({ transition: true });
    expect(readPlacement({ placement: 'transition' }, twoWay)).toEqual({ transition: true });
    expect(readPlacement({}, twoWay)).toEqual({});
  });
});

describe('findDrivingSide', () => {
  const ring = (turn: 1 | -1) => ({
    tags: { junction: 'roundabout' },
    line: [0, 1, 2, 3, 0].map((k): [number, number] => [
      7 + 1e-4 * Math.cos((turn * k * Math.PI) / 2),
      46 + 1e-4 * Math.sin((turn * k * Math.PI) / 2),
    ]),
  });
  it('goes by most roundabouts, and by the tag before them', () => {
    expect(findDrivingSide([ring(1), ring(-1), ring(1)])).toBe('right');
    expect(findDrivingSide([ring(-1), ring(-1), ring(1)])).toBe('left');
    expect(findDrivingSide([ring(1), { tags: { driving_side: 'left' }, line: [] }])).toBe('left');
    expect(findDrivingSide([{ ...ring(1), line: ring(1).line.slice(1) }])).toBeUndefined();
    expect(findDrivingSide([])).toBeUndefined();
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
      'maxspeed:lanes',
      'maxspeed:conditional',
      'zone:maxspeed',
      'placement',
      'placement:forward',
    ),
    fc.oneof(
      fc.string(),
      fc.constantFrom(
        '-1',
        'NaN',
        '1e9',
        ' ',
        ';;',
        '999 mph',
        '0x10',
        'DE:zone:0',
        'DE:constructor',
        'right_of:1',
        '9 @ ((',
      ),
    ),
  );
  it('give finite, positive values', () => {
    fc.assert(
      fc.property(tags, fc.constantFrom(...ROAD_CLASSES), (any, roadClass) => {
        const { speedMps } = readMaxspeed(any, roadClass);
        expect(speedMps > 0 && speedMps <= 100).toBe(true);
        const { lanes } = readLanes(any, roadClass, true);
        expect(Number.isInteger(lanes) && lanes > 0 && lanes <= 60).toBe(true);
        const way = { lanes, reversed: false, findDrivingSide: () => 'left' as const };
        for (const direction of ['forward', 'both', 'reversible'] as const) {
          const { centreLanes = 0 } = readPlacement(any, { ...way, direction });
          expect(Math.abs(centreLanes) <= lanes / 2).toBe(true);
        }
        const { widthM } = readWidth(any);
        expect(widthM === undefined || (widthM > 0 && widthM <= 60)).toBe(true);
        expect(['forward', 'backward', 'both', 'reversible']).toContain(readOneway(any).oneway);
      }),
      { seed: 5, numRuns: 500 },
    );
  });
});
