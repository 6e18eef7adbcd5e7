import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildSurvey, listComplexNetworks } from '../pipeline/build-survey.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import type { ExistingFile } from './existing.ts';
import { findEquipment } from './find-status.ts';
import { matchExisting } from './match-existing.ts';
import { matchTraffic } from './match-traffic.ts';
import { readExisting } from './read-existing.ts';

const bore = { highway: 'primary', tunnel: 'yes', oneway: 'yes', maxspeed: '60', name: 'Box', ref: 'A9' };

/** Two cells of a box 11 m apart, 800 m long, driven in opposite directions. */
function drawBox(apartM = 11) {
  const built = buildSurvey(
    drawPlace({
      nodes: { 1: [0, 0], 2: [800, 0], 3: [800, apartM], 4: [0, apartM] },
      ways: [
        { id: 11, nodes: [1, 2], tags: bore },
        { id: 12, nodes: [3, 4], tags: bore },
      ],
    }),
    'box',
  );
  if (!built.ok) throw new Error(built.refusal.code);
  return built.value.network;
}

function read(text: string): ExistingFile {
  const found = readExisting(text, 'inventory');
  if (!found.ok) throw new Error(found.refusal.code);
  return found.value;
}

/** Places of the drawing, metres east and north of its origin, as a row of an inventory. */
function row(network: ReturnType<typeof drawBox>, share: number, northShare: number, rest: string): string {
  const [south, north] = network.links.map(({ line }) => line);
  const [a, b] = [south?.[0], south?.at(-1)] as [[number, number], [number, number]];
  const other = north?.[0] as [number, number];
  return `${a[0] + share * (b[0] - a[0])},${a[1] + northShare * (other[1] - a[1])},${rest}`;
}

const statusOf = (network: ReturnType<typeof drawBox>, file: ExistingFile) => {
  const [one] = listComplexNetworks(network);
  if (one === undefined) throw new Error('no tunnel');
  const { byComplex } = matchExisting(network, file).value;
  return findEquipment(one, DEFAULT_RULES, 20, byComplex[one.complex.id] ?? []);
};

describe('an inventory', () => {
  it.each([
    ['heard', true, true, 0],
    ['Low Battery', true, true, 0],
    ['', true, true, 0],
    ['silent', true, false, 0],
    ['out_of_order', true, false, 0],
    ['planned', false, false, 0],
    ['spare', false, false, 0],
    ['removed', false, false, 0],
    ['gone fishing', true, false, 1],
  ])('takes the state %j for one that is there: %s, works: %s', (state, isThere, isWorking, notes) => {
    const network = drawBox();
    const file = read(`lon,lat,device_id,state\n${row(network, 0.5, 0, `A,${state}`)}\n`);
    const { existingCount, status } = statusOf(network, file);
    expect(existingCount).toBe(isThere ? 1 : 0);
    expect(status).toBe(isWorking ? 'partly equipped' : 'planned');
    expect(file.notes).toHaveLength(notes);
  });

  it('counts a beacon that it names twice once, by its id or by its place', () => {
    const network = drawBox();
    const file = read(
      [
        'lon,lat,device_id',
        row(network, 0.5, 0, 'A'),
        row(network, 0.6, 0, 'a'),
        row(network, 0.7, 0, ''),
        row(network, 0.7, 0, ''),
        row(network, 0.7, 0, 'B'),
      ].join('\n'),
    );
    expect(file.items.map(({ line }) => line)).toEqual([2, 4, 6]);
    expect(file.notes).toMatchObject([
      { line: 3, reason: 'the same beacon as line 2', isUsed: false },
      { line: 5, reason: 'the same beacon as line 4', isUsed: false },
    ]);
  });

  it('says where two properties of a feature say different things', () => {
    const feature = (properties: object) => ({
      type: 'Feature',
      geometry: { type: 'Point', coordinates: [0, 50] },
      properties,
    });
    const features = [
      { State: 'heard', status: 'removed' },
      { state: null, status: 'removed' },
    ].map(feature);
    const file = read(JSON.stringify({ type: 'FeatureCollection', features }));
    expect(file.items).toMatchObject([{ line: 2, state: 'removed' }]);
    expect(file.notes).toMatchObject([{ line: 1, reason: expect.stringContaining('state') }]);
  });

  it('gives beacons on the wall between two cells to the tunnel, and fills no gap with them', () => {
    const network = drawBox();
    const places = Array.from({ length: 27 }, (_, i) => i / 26);
    const middle = read(
      ['lon,lat,device_id', ...places.map((at, i) => row(network, at, 0.5, `M${i}`))].join('\n'),
    );
    const matched = matchExisting(network, middle);
    expect(matched.findings.map(({ code, params }) => [code, params.given])).toEqual(
      places.map(() => ['existing-ambiguous', 'to the tunnel']),
    );
    expect(statusOf(network, middle)).toEqual({ existingCount: 27, status: 'partly equipped' });
    const outer = read(
      [
        'lon,lat,device_id',
        ...places.map((at, i) => row(network, at, -0.4, `S${i}`)),
        ...places.map((at, i) => row(network, at, 1.4, `N${i}`)),
      ].join('\n'),
    );
    expect(statusOf(network, outer)).toEqual({ existingCount: 54, status: 'equipped' });
  });
});

describe('a count by the road’s ref', () => {
  const countsOf = (network: ReturnType<typeof drawBox>) =>
    matchTraffic(network, {
      name: 'counts',
      rows: [{ line: 2, ref: 'A9', vehiclesPerDay: 40_000 }],
      notes: [],
    });

  it('is split between two cells, and is taken whole on a one-way bore by itself, which is told', () => {
    const both = countsOf(drawBox());
    expect(Object.values(both.value.byLink).map(({ vehiclesPerDay }) => vehiclesPerDay)).toEqual([
      20_000, 20_000,
    ]);
    expect(both.findings.map(({ code }) => code)).toEqual(['traffic-row-split']);
    const apart = countsOf(drawBox(400));
    expect(Object.values(apart.value.byLink).map(({ vehiclesPerDay }) => vehiclesPerDay)).toEqual([
      40_000, 40_000,
    ]);
    expect(apart.findings.map(({ code }) => code)).toEqual(['traffic-row-one-way', 'traffic-row-one-way']);
  });
});
