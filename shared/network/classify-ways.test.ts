import { describe, expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import type { Tags } from '../osm/extract.ts';
import { buildNetwork, NETWORK_RULES } from './build-network.ts';
import { classifyWays } from './classify-ways.ts';

const bore = { highway: 'primary', tunnel: 'yes', maxspeed: '50', lanes: '2' };
const nodes = { 1: [0, 0], 2: [100, 0], 4: [300, 0], 5: [400, 0] } as const;
const reported = (drawing: PlaceDrawing) =>
  classifyWays(drawPlace(drawing)).findings.map(({ code, params }) => [code, params]);

describe('a tunnel way of which the extract lacks nodes', () => {
  it.each([
    [[1, 2, 3, 4, 5], 4],
    [[1, 2, 3], 2],
    [[3, 1, 2], 2],
    // A ring names its first node twice.
    [[1, 2, 3, 4, 1], 3],
  ])('%j is in the report with the %s that are there', (way, present) => {
    expect(reported({ nodes, ways: [{ id: 11, nodes: way, tags: bore }] })).toEqual([
      ['way-nodes-missing', { present, inWay: new Set(way).size }],
    ]);
  });

  it.each([[[1, 2, 4, 5]], [[1, 2, 4, 1]], [[1, 1, 2]]])('is not said of %j, which is whole', (way) => {
    expect(reported({ nodes, ways: [{ id: 11, nodes: way, tags: bore }] })).toEqual([]);
  });

  it('and so falls apart is one complex for each part, with ids of their own', () => {
    const { value } = buildNetwork(
      drawPlace({ nodes, ways: [{ id: 11, nodes: [1, 2, 3, 4, 5], tags: bore }] }),
      NETWORK_RULES,
    );
    expect(value.complexes.map(({ id, linkIds }) => [id, linkIds])).toEqual([
      ['t11', ['11-1-2']],
      ['t11-2', ['11-4-5']],
    ]);
  });
});

describe('a road that is not in use', () => {
  const drawing = (tags: Tags) => ({ nodes, ways: [{ id: 11, nodes: [1, 2], tags }] });
  it.each<[Tags, string]>([
    [{ highway: 'construction', construction: 'primary', tunnel: 'yes' }, 'construction'],
    [{ ...bore, construction: 'yes' }, 'construction'],
    [{ ...bore, disused: 'yes' }, 'disused'],
    [{ 'proposed:highway': 'primary', tunnel: 'yes' }, 'proposed'],
    [{ 'abandoned:highway': 'primary', covered: 'yes' }, 'abandoned'],
  ])('is in the report where it is a tunnel: %j', (tags, state) => {
    expect(reported(drawing(tags))).toEqual([['way-not-in-use', { state }]]);
    expect(classifyWays(drawPlace(drawing(tags))).value.listRoads()).toEqual([]);
  });

  it('is left out in silence in the open air', () => {
    const found = classifyWays(drawPlace(drawing({ highway: 'primary', construction: 'yes' })));
    expect(found.value.listRoads()).toEqual([]);
    expect(found.findings).toEqual([]);
  });

  it.each<[Tags, boolean]>([
    [{ ...bore, construction: 'minor' }, false],
    [{ ...bore, 'proposed:maxspeed': '80' }, false],
    [{ ...bore, 'disused:highway': 'trunk' }, false],
    [{ ...bore, access: 'no' }, true],
  ])('is none of %j', (tags, restricted) => {
    const found = classifyWays(drawPlace(drawing(tags)));
    expect(found.value.underRoof).toMatchObject([{ restricted, roof: 'tunnel' }]);
    expect(found.findings).toEqual([]);
  });
});
