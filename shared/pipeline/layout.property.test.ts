import fc from 'fast-check';
import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';
import { askFewest, layFewest } from '../placement/fewest/lay-fewest.ts';
import { solveFewest } from '../placement/fewest/solve-fewest.ts';
import { makeRadius } from '../placement/make-radius.ts';
import { makeWallPlacer } from '../placement/place-on-wall.ts';
import type { Rules } from '../placement/rules.ts';
import { makeScheme, type Scheme } from '../scheme/scheme.ts';
import { designComplex } from './design-complex.ts';
import {
  anyRules,
  drawing,
  getTunnel,
  type Handwork,
  handwork,
  placeHandwork,
  twoWayDrawing,
} from './drawn-networks.fixture.ts';
import { findLongestGapM } from './longest-gap.fixture.ts';

/** Rounding, metres. */
const SLACK_M = 1e-4;

const nothing: Handwork = { pins: [], keepOuts: [] };

function schemeOf(network: ComplexNetwork, work: Handwork): Scheme {
  const { pins, keepOuts } = placeHandwork(network, work);
  return { ...makeScheme(network.complex.id), pinned: pins, keepOuts };
}

function design(network: ComplexNetwork, rules: Rules, work: Handwork) {
  const { value } = designComplex(network, rules, schemeOf(network, work));
  const gap = value.checks.find(({ rule }) => rule === 'gap');
  if (gap === undefined) throw new Error('the gap was not checked');
  return { ...value, gap, longestM: findLongestGapM(network, value.beacons) };
}

/** What the method `fewest` lays at once, without the solver. */
function sweepFewest(network: ComplexNetwork, rules: Rules, work: Handwork) {
  const { pins, keepOuts } = placeHandwork(network, work);
  const input = { network, rules, pins, keepOuts, radiusM: makeRadius(rules) };
  return { input, ...layFewest(input) };
}

describe('for any network and rules', () => {
  it('the even layout leaves no gap above the spacing where nobody put anything into it', () => {
    fc.assert(
      fc.property(drawing, anyRules, (place, rules) => {
        // Otherwise the rules themselves ask for a gap: from the portal to its beacon.
        fc.pre(rules.portalOffsetM <= rules.spacingM);
        const { gap, longestM } = design(getTunnel(drawPlace(place)), rules, nothing);
        expect(longestM).toBeLessThanOrEqual(rules.spacingM + SLACK_M);
        expect(gap.status).toBe('met');
      }),
      { seed: 21, numRuns: 200 },
    );
  });

  it('no gap is above the spacing unless the check says so, whatever people put into it', () => {
    fc.assert(
      fc.property(drawing, anyRules, handwork, (place, rules, work) => {
        const { gap, longestM } = design(getTunnel(drawPlace(place)), rules, work);
        if (longestM > rules.spacingM + SLACK_M) expect(gap.status).toBe('not met');
        expect(gap.found).toBeGreaterThanOrEqual(longestM - SLACK_M);
      }),
      { seed: 22, numRuns: 200 },
    );
  });

  it('the fewest beacons leave no gap above the spacing unless it says where', () => {
    fc.assert(
      fc.property(drawing, anyRules, handwork, (place, rules, work) => {
        const network = getTunnel(drawPlace(place));
        const { beacons, gaps } = sweepFewest(network, rules, work);
        if (gaps.some(({ kind }) => kind === 'gap')) return;
        expect(findLongestGapM(network, beacons)).toBeLessThanOrEqual(rules.spacingM + SLACK_M);
      }),
      { seed: 23, numRuns: 100 },
    );
  });

  it('any one beacon may fail without a gap above redundancy times spacing, where no gap is too long', () => {
    const redundant = fc
      .tuple(anyRules, fc.constantFrom(2, 3))
      .map(([rules, redundancy]) => ({ ...rules, redundancy }));
    fc.assert(
      fc.property(drawing, redundant, handwork, (place, rules, work) => {
        const network = getTunnel(drawPlace(place));
        const { beacons, gap } = design(network, rules, work);
        if (gap.status !== 'met') return;
        for (const failed of beacons) {
          const left = beacons.filter((beacon) => beacon !== failed);
          const longestM = findLongestGapM(network, left);
          expect(longestM, failed.id).toBeLessThanOrEqual(rules.redundancy * rules.spacingM + SLACK_M);
        }
      }),
      { seed: 24, numRuns: 120 },
    );
  });

  it('what a person put somewhere stays there, and nothing else is locked', () => {
    fc.assert(
      fc.property(drawing, anyRules, handwork, (place, rules, work) => {
        const network = getTunnel(drawPlace(place));
        const { pins } = placeHandwork(network, work);
        const expected = pins.map(({ id, at }) => ({ id, at }));
        for (const { beacons } of [design(network, rules, work), sweepFewest(network, rules, work)]) {
          const locked = beacons.filter((beacon) => beacon.locked).map(({ id, at }) => ({ id, at }));
          expect(sorted(locked)).toEqual(sorted(expected));
        }
      }),
      { seed: 25, numRuns: 150 },
    );
  });

  it('the order of ways, nodes, beacons by hand and keep-outs does not matter', () => {
    fc.assert(
      fc.property(drawing, anyRules, handwork, fc.nat(), (place, rules, work, seed) => {
        const extract = drawPlace(place);
        const network = getTunnel(extract);
        const other = getTunnel({
          ...extract,
          nodes: shuffle(extract.nodes, seed),
          ways: shuffle(extract.ways, seed + 1),
        });
        expect(other).toEqual(network);
        const scheme = schemeOf(network, work);
        const mixed: Scheme = {
          ...scheme,
          pinned: shuffle(scheme.pinned, seed + 2),
          keepOuts: shuffle(scheme.keepOuts, seed + 3),
        };
        const { value } = designComplex(network, rules, scheme);
        const { value: again } = designComplex(other, rules, mixed);
        expect(again).toEqual(value);
      }),
      { seed: 26, numRuns: 150 },
    );
  });

  it('two-way ways that are drawn the other way round give the mirrored design', () => {
    fc.assert(
      fc.property(twoWayDrawing, anyRules, (place, rules) => {
        const turned: PlaceDrawing = {
          ...place,
          ways: place.ways.map((way) => ({ ...way, nodes: way.nodes.toReversed() })),
        };
        const [network, mirrored] = [place, turned].map((one) => getTunnel(drawPlace(one))) as [
          ComplexNetwork,
          ComplexNetwork,
        ];
        const places = listPlacesOnLine(network, design(network, rules, nothing).beacons);
        const others = listPlacesOnLine(mirrored, design(mirrored, rules, nothing).beacons);
        expect(others).toEqual(places);
      }),
      { seed: 127, numRuns: 300 },
    );
  });

  it('the fewest are not more than even lays, where even keeps every rule', () => {
    let compared = 0;
    for (const seed of [28, 128, 228]) {
      fc.assert(
        fc.property(drawing, anyRules, (place, rules) => {
          const network = getTunnel(drawPlace(place));
          const even = design(network, rules, nothing);
          if (even.checks.some(({ status }) => status === 'not met')) return;
          compared += 1;
          expect(sweepFewest(network, rules, nothing).beacons.length).toBeLessThanOrEqual(
            even.beacons.length,
          );
        }),
        { seed, numRuns: 100 },
      );
    }
    expect(compared).toBeGreaterThan(60);
  });
});

describe('on small networks', () => {
  let highs: Highs;
  beforeAll(async () => {
    highs = await loadHighs();
  });

  it('what the solver proves is not more than the sweep finds, and is what a layout takes', () => {
    fc.assert(
      fc.property(drawing, anyRules, (place, rules) => {
        const network = getTunnel(drawPlace(place));
        if (network.complex.lengthM > 500) return;
        const { input, beacons } = sweepFewest(network, rules, nothing);
        const { solution, isProven } = solveFewest(askFewest(input), rules, highs, { timeLimitS: 10 });
        expect(isProven).toBe(true);
        const solved = layFewest(input, solution);
        expect(solved.method).toBe('solved');
        expect(solved.beacons.length).toBeLessThanOrEqual(beacons.length);
        expect(solution.bound).toBe(solved.beacons.length);
      }),
      { seed: 29, numRuns: 60 },
    );
  });
});

function sorted<T extends { readonly id: string }>(items: readonly T[]): readonly T[] {
  return [...items].sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** Where the beacons stand along the lines, to the millimetre, in an order that does not hang on how they are drawn. */
function listPlacesOnLine({ links }: ComplexNetwork, beacons: readonly Beacon[]): readonly string[] {
  const place = makeWallPlacer(links);
  return beacons
    .map((beacon) => place({ ...beacon, offsetM: 0 }))
    .map(([lon, lat]) => `${lon.toFixed(7)} ${lat.toFixed(7)}`)
    .sort();
}

function shuffle<T>(items: readonly T[], seed: number): T[] {
  let state = (seed % 2147483646) + 1;
  const mixed = [...items];
  for (let i = mixed.length - 1; i > 0; i -= 1) {
    state = (state * 48271) % 2147483647;
    const other = state % (i + 1);
    [mixed[i], mixed[other]] = [mixed[other] as T, mixed[i] as T];
  }
  return mixed;
}
