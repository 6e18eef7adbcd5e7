import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isBuilding, NODE_KEYS, WAY_KEYS, wantsMembers, wantsNode, wantsRelation, wantsWay } from './keep.ts';

type Tags = Record<string, string>;

describe('wantsWay', () => {
  it.each<Tags>([
    { highway: 'motorway' },
    { highway: 'living_street' },
    { highway: 'service', service: 'parking_aisle', access: 'private' },
    { highway: 'footway', tunnel: 'yes' },
    { highway: 'steps', covered: 'yes' },
    { highway: 'cycleway', tunnel: 'building_passage' },
    { highway: 'construction', construction: 'motorway', tunnel: 'yes' },
    { highway: 'proposed', tunnel: 'yes' },
    { highway: 'emergency_bay' },
    { railway: 'subway', tunnel: 'yes' },
    { railway: 'rail' },
    { 'abandoned:highway': 'primary', tunnel: 'yes' },
    { natural: 'coastline' },
    { natural: 'water' },
    { waterway: 'river' },
    { waterway: 'canal', tunnel: 'culvert' },
    { leisure: 'park' },
    { place: 'island' },
    { place: 'neighbourhood' },
    { aeroway: 'runway' },
    { landuse: 'harbour' },
    { emergency: 'bay' },
    { emergency: 'lay_by' },
  ])('keeps %j', (tags) => {
    expect(wantsWay(tags)).toBe(true);
  });

  it.each<Tags>([
    {},
    { highway: 'footway' },
    { highway: 'footway', tunnel: 'no' },
    { highway: 'construction', construction: 'motorway' },
    { highway: 'platform' },
    { building: 'yes' },
    { landuse: 'residential' },
    { waterway: 'stream', tunnel: 'culvert' },
    { railway: 'tram' },
    { boundary: 'administrative' },
    { emergency: 'yes' },
  ])('leaves out %j', (tags) => {
    expect(wantsWay(tags)).toBe(false);
  });
});

describe('wantsNode', () => {
  it.each<Tags>([
    { highway: 'motorway_junction' },
    { emergency: 'phone' },
    { highway: 'emergency_access_point' },
    { highway: 'emergency_bay' },
    { entrance: 'emergency' },
    { place: 'suburb' },
    { natural: 'bay' },
  ])('keeps %j', (tags) => {
    expect(wantsNode(tags)).toBe(true);
  });

  it.each<Tags>([
    {},
    { highway: 'traffic_signals' },
    { entrance: 'yes' },
    { natural: 'tree' },
    { barrier: 'gate' },
  ])('leaves out %j', (tags) => {
    expect(wantsNode(tags)).toBe(false);
  });
});

describe('wantsRelation and wantsMembers', () => {
  it.each<[Tags, boolean, boolean]>([
    [{ type: 'restriction', restriction: 'no_u_turn' }, true, false],
    [{ type: 'tunnel' }, true, false],
    [{ type: 'multipolygon', natural: 'water' }, true, true],
    [{ type: 'multipolygon', waterway: 'riverbank' }, true, true],
    [{ type: 'boundary', leisure: 'park' }, true, true],
    [{ type: 'multipolygon', place: 'islet' }, true, true],
    [{ type: 'multipolygon', building: 'yes' }, false, false],
    [{ type: 'boundary', boundary: 'administrative', place: 'city' }, false, false],
    [{ type: 'route', route: 'road' }, false, false],
    [{ natural: 'water' }, false, false],
    [{}, false, false],
  ])('%j', (tags, relation, members) => {
    expect(wantsRelation(tags)).toBe(relation);
    expect(wantsMembers(tags)).toBe(members);
  });
});

describe('isBuilding', () => {
  it('tells houses from what may bound a lake', () => {
    expect(isBuilding({ building: 'yes' })).toBe(true);
    expect(isBuilding({})).toBe(false);
    expect(isBuilding({ landuse: 'forest' })).toBe(false);
  });
});

describe('the keys that decide', () => {
  const words = [
    'highway',
    'tunnel',
    'covered',
    'place',
    'natural',
    'waterway',
    'leisure',
    'landuse',
    'railway',
  ];
  const others = [
    'aeroway',
    'emergency',
    'entrance',
    'building',
    'name',
    'type',
    'construction:highway',
    'access',
  ];
  const values = [
    'yes',
    'primary',
    'emergency_bay',
    'water',
    'river',
    'park',
    'port',
    'island',
    'rail',
    'runway',
  ];
  const some = ['bay', 'motorway_junction', 'emergency', 'phone', 'town', 'no'];
  const tags = fc.dictionary(fc.constantFrom(...words, ...others), fc.constantFrom(...values, ...some), {
    noNullPrototype: true,
  });

  it('are all that is asked: tags without one of them are not kept', () => {
    fc.assert(
      fc.property(tags, (any) => {
        const without = (keys: ReadonlySet<string>) =>
          Object.fromEntries(Object.entries(any).filter(([key]) => !keys.has(key)));
        expect(wantsWay(without(WAY_KEYS))).toBe(false);
        expect(wantsMembers({ type: 'multipolygon', ...without(WAY_KEYS) })).toBe(false);
        expect(wantsNode(without(NODE_KEYS))).toBe(false);
      }),
      { seed: 14, numRuns: 3000 },
    );
  });
});
