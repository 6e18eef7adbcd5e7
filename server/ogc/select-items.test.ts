import { describe, expect, it } from 'vitest';
import { makeCollection, makeFeature } from '../../shared/export/make-collection.ts';
import { OSM_ORIGIN } from '../../shared/export/origin.ts';
import type { Counts } from '../../shared/wire/survey.ts';
import { buildFeatureIndex } from './feature-index.ts';
import type { GetFeatures } from './feature-indexes.ts';
import { type ItemsQuery, selectItems } from './select-items.ts';
import type { ShownSurvey } from './shown-surveys.ts';

/** Surveys a, b and c, each with five beacons in a row to the east of its own meridian. */
const shown = ['a', 'b', 'c'].map(
  (id, i): ShownSurvey => ({
    id,
    name: id,
    attribution: '',
    updated: `2026-0${i + 1}-01T00:00:00Z`,
    bbox: [i * 10, 0, i * 10 + 4, 0],
    counts: { beacons: 5 } as Counts,
    stand: '',
  }),
);

function makeSource() {
  const asked: string[] = [];
  const getFeatures: GetFeatures = async ({ id }) => {
    asked.push(id);
    const west = shown.findIndex((one) => one.id === id) * 10;
    const features = [0, 1, 2, 3, 4].map((i) =>
      makeFeature(`${id}${i}`, { type: 'Point', coordinates: [west + i, 0] }, {}),
    );
    return buildFeatureIndex(Buffer.from(JSON.stringify(makeCollection(features, OSM_ORIGIN))));
  };
  return { asked, getFeatures };
}

async function select(query: Partial<ItemsQuery>) {
  const { asked, getFeatures } = makeSource();
  const page = await selectItems(shown, 'beacons', { limit: 10, offset: 0, ...query }, getFeatures);
  const ids = [...page.items()].map(({ feature }) => feature.id);
  expect(page.returned).toBe(ids.length);
  return { ids: ids.join(' '), matched: page.matched, asked: asked.join('') };
}

describe('a page of features', () => {
  it.each<[Partial<ItemsQuery>, string, number, string]>([
    [{ limit: 3 }, 'a0 a1 a2', 15, 'a'],
    [{ limit: 5 }, 'a0 a1 a2 a3 a4', 15, 'a'],
    [{ limit: 3, offset: 4 }, 'a4 b0 b1', 15, 'ab'],
    [{ limit: 7, offset: 4 }, 'a4 b0 b1 b2 b3 b4 c0', 15, 'abc'],
    [{ limit: 5, offset: 10 }, 'c0 c1 c2 c3 c4', 15, 'c'],
    [{ offset: 14 }, 'c4', 15, 'c'],
    [{ offset: 15 }, '', 15, ''],
    [{ surveyId: 'b', limit: 2, offset: 3 }, 'b3 b4', 5, 'b'],
    [
      { during: { fromMs: Date.parse('2026-02-01'), toMs: Number.POSITIVE_INFINITY }, limit: 1 },
      'b0',
      10,
      'b',
    ],
    [{ boxes: [[3, -1, 11, 1]] }, 'a3 a4 b0 b1', 4, 'ab'],
    [{ boxes: [[3, -1, 11, 1]], limit: 2, offset: 1 }, 'a4 b0', 4, 'ab'],
    [{ boxes: [[3, -1, 11, 1]], offset: 9 }, '', 4, 'ab'],
    [{ boxes: [[5, -1, 9, 1]] }, '', 0, ''],
    // Between the tunnels and the box are 11 m, and a beacon may be on a wall.
    [{ boxes: [[4.0001, -1, 9, 1]] }, '', 0, 'a'],
  ])('%j: %s of %i; only the surveys %s are laid out', async (query, ids, matched, asked) => {
    expect(await select(query)).toEqual({ ids, matched, asked });
  });

  it('is without a survey that has gone meanwhile', async () => {
    const { getFeatures } = makeSource();
    const without: GetFeatures = async (survey, collection) =>
      survey.id === 'b' ? undefined : getFeatures(survey, collection);
    const page = await selectItems(shown, 'beacons', { limit: 20, offset: 0 }, without);
    expect([page.matched, page.returned]).toEqual([10, 10]);
  });
});
