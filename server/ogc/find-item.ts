import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { CollectionId } from './collections.ts';
import { fromFeatureId } from './feature-id.ts';
import type { GetFeatures } from './feature-indexes.ts';
import type { Item } from './select-items.ts';
import type { ShownSurvey } from './shown-surveys.ts';

/** A feature by its id, in a survey that is shown; refused as `feature-unknown`. */
export async function findItem(
  shown: readonly ShownSurvey[],
  collection: CollectionId,
  id: string,
  getFeatures: GetFeatures,
): Promise<Result<Item>> {
  const named = fromFeatureId(id);
  const survey = shown.find((one) => one.id === named?.surveyId);
  const features = survey === undefined ? undefined : await getFeatures(survey, collection);
  const feature = features?.find(named?.exportedId ?? '');
  if (survey === undefined || feature === undefined) {
    return refused(refusal('feature-unknown', { id, collection }));
  }
  return done({ survey, feature });
}
