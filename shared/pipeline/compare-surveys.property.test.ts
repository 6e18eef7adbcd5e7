import fc from 'fast-check';
import { expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import { makeRuler } from '../alignment/make-ruler.ts';
import { matchLinks } from '../network/match-links.ts';
import type { Link } from '../network/network.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { makeScheme } from '../scheme/scheme.ts';
import { buildSurvey, listComplexNetworks } from './build-survey.ts';
import { compareSurveys } from './compare-surveys.ts';
import { listBeacons } from './design-complex.ts';
import { rebuildSurvey } from './rebuild-survey.ts';

const bore = { highway: 'secondary', tunnel: 'yes', maxspeed: '50' };

/** A comb of bores and ramps whose nodes lie anywhere, and what a mapper may do to it. */
const edits = fc.record({
  places: fc.array(fc.tuple(fc.integer({ min: -900, max: 900 }), fc.integer({ min: -900, max: 900 })), {
    minLength: 4,
    maxLength: 9,
  }),
  moved: fc.array(fc.tuple(fc.integer({ min: -60, max: 60 }), fc.integer({ min: -60, max: 60 })), {
    minLength: 9,
    maxLength: 9,
  }),
  isRenumbered: fc.boolean(),
  isReversed: fc.boolean(),
  dropped: fc.integer({ min: 0, max: 4 }),
});

function draw(
  places: readonly (readonly [number, number])[],
  base: number,
  isReversed: boolean,
): PlaceDrawing {
  const ids = places.map((_, i) => base + i + 1);
  const half = Math.ceil(ids.length / 2);
  const order = (nodes: number[]) => (isReversed ? [...nodes].reverse() : nodes);
  return {
    nodes: Object.fromEntries(places.map((place, i) => [base + i + 1, place])),
    ways: [
      { id: base + 100, nodes: order(ids.slice(0, half)), tags: bore },
      { id: base + 101, nodes: order([ids[half - 1] as number, ...ids.slice(half)]), tags: bore },
      { id: base + 102, nodes: order([ids[0] as number, ids.at(-1) as number]), tags: bore },
    ],
  };
}

it('a comparison accounts for every beacon and every link of both states, whatever was edited', () => {
  fc.assert(
    fc.property(edits, ({ places, moved, isRenumbered, isReversed, dropped }) => {
      const old = buildSurvey(drawPlace(draw(places, 0, false)), 'old');
      fc.pre(old.ok);
      if (!old.ok) return;
      const now = places.map(([x, y], i) => [x + (moved[i]?.[0] ?? 0), y + (moved[i]?.[1] ?? 0)] as const);
      const drawing = draw(now, isRenumbered ? 5000 : 0, isReversed);
      const ways = drawing.ways.filter((_, i) => i !== dropped - 1);
      const { network } = old.value;
      const rebuilt = rebuildSurvey(network, drawPlace({ ...drawing, ways }), 'new', []);
      fc.pre(rebuilt.ok);
      if (!rebuilt.ok) return;
      const found = compareSurveys({ network, rules: DEFAULT_RULES, schemes: [] }, rebuilt.value);
      const count = (of: typeof network) =>
        listComplexNetworks(of).flatMap((one) => listBeacons(one, DEFAULT_RULES, makeScheme(one.complex.id)))
          .length;
      const changes = (kind: string) => found.beacons.filter(({ change }) => change === kind).length;
      expect(found.unchanged.beacons + changes('moved') + changes('removed')).toBe(count(network));
      expect(found.unchanged.beacons + changes('moved') + changes('added')).toBe(
        count(rebuilt.value.network),
      );
      const linkIds = new Set(rebuilt.value.network.links.map(({ id }) => id));
      expect(linkIds.size).toBe(rebuilt.value.network.links.length);
      expect(
        found.links
          .filter(({ change }) => change === 'vanished')
          .every(({ id }) => !linkIds.has(id as never)),
      ).toBe(true);
    }),
    { seed: 7, numRuns: 150 },
  );
});

it('pieces never overlap on the old link, and lie within both links', () => {
  fc.assert(
    fc.property(edits, ({ places, moved, isRenumbered, isReversed }) => {
      const now = places.map(([x, y], i) => [x + (moved[i]?.[0] ?? 0), y + (moved[i]?.[1] ?? 0)] as const);
      const old = buildSurvey(drawPlace(draw(places, 0, false)), 'old');
      const newer = buildSurvey(drawPlace(draw(now, isRenumbered ? 5000 : 0, isReversed)), 'new');
      fc.pre(old.ok && newer.ok);
      if (!old.ok || !newer.ok) return;
      const measure = (links: readonly Link[]) =>
        new Map(links.map(({ id, line }) => [id, makeRuler(line).lengthM]));
      const [was, is] = [measure(old.value.network.links), measure(newer.value.network.links)];
      const reached = new Map<string, number>();
      for (const piece of matchLinks(old.value.network.links, newer.value.network.links)) {
        expect(piece.fromM).toBeGreaterThanOrEqual((reached.get(piece.beforeId) ?? 0) - 1e-6);
        expect(piece.toM).toBeGreaterThan(piece.fromM);
        reached.set(piece.beforeId, piece.toM);
        expect(piece.toM).toBeLessThanOrEqual((was.get(piece.beforeId) ?? 0) + 1e-6);
        for (const atM of [piece.atFromM, piece.atToM]) {
          expect(atM).toBeGreaterThanOrEqual(0);
          expect(atM).toBeLessThanOrEqual((is.get(piece.afterId) ?? 0) + 1e-6);
        }
      }
    }),
    { seed: 11, numRuns: 150 },
  );
});
