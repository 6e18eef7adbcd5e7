import type { Feature } from 'geojson';
import { growBox } from '../../shared/geodesy/grow-box.ts';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { COLLECTIONS, type CollectionId } from './collections.ts';
import type { FeatureIndex } from './feature-index.ts';
import type { GetFeatures } from './feature-indexes.ts';
import type { Interval } from './read-datetime.ts';
import type { ShownSurvey } from './shown-surveys.ts';

/** Which features are asked for, and which of them are on the page. */
export type ItemsQuery = {
  readonly limit: number;
  readonly offset: number;
  /** They touch one of these. */
  readonly boxes?: readonly BBox[];
  /** Their survey was changed last within it. */
  readonly during?: Interval;
  readonly surveyId?: string;
};

export type Item = { readonly survey: ShownSurvey; readonly feature: Feature };

/** One page of features: how many there are on all pages, how many on this one, and they themselves, parsed one by one. */
export type ItemsPage = { readonly matched: number; readonly returned: number; items(): Iterable<Item> };

/**
 * Finds a page of features in surveys that are sorted by id. Only those surveys are laid out that the page or the box
 * needs; of the others it is known how many features they have.
 */
export async function selectItems(
  shown: readonly ShownSurvey[],
  collection: CollectionId,
  query: ItemsQuery,
  getFeatures: GetFeatures,
): Promise<ItemsPage> {
  const { countIn, reachM } = COLLECTIONS[collection];
  const parts: { survey: ShownSurvey; index: FeatureIndex; places: readonly number[] }[] = [];
  let matched = 0;
  for (const survey of shown.filter((one) => isAskedFor(one, query))) {
    const { boxes } = query;
    if (boxes !== undefined && !mayTouch(survey, reachM, boxes)) continue;
    // On the page are the features from `offset` on, counted over all surveys.
    const first = Math.max(0, query.offset - matched);
    const last = query.offset + query.limit - matched;
    const counted = countIn(survey.counts);
    if (boxes === undefined && (first >= counted || last <= 0)) {
      matched += counted;
      continue;
    }
    const index = await getFeatures(survey, collection);
    if (index === undefined) continue;
    const found = boxes === undefined ? listTo(index.count) : await index.within(boxes);
    parts.push({ survey, index, places: found.slice(first, Math.max(first, last)) });
    matched += found.length;
  }
  return {
    matched,
    returned: parts.reduce((sum, { places }) => sum + places.length, 0),
    *items() {
      for (const { survey, index, places } of parts) {
        for (const place of places) yield { survey, feature: index.get(place) };
      }
    },
  };
}

function isAskedFor({ id, updated }: ShownSurvey, { surveyId, during }: ItemsQuery): boolean {
  if (surveyId !== undefined && surveyId !== id) return false;
  if (during === undefined) return true;
  const ms = Date.parse(updated);
  return during.fromMs <= ms && ms <= during.toMs;
}

function mayTouch({ bbox }: ShownSurvey, reachM: number, boxes: readonly BBox[]): boolean {
  if (bbox === undefined) return false;
  const [west, south, east, north] = growBox(bbox, reachM);
  return boxes.some((box) => west <= box[2] && box[0] <= east && south <= box[3] && box[1] <= north);
}

function listTo(count: number): readonly number[] {
  return Array.from({ length: count }, (_, place) => place);
}
