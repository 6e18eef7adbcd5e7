import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { Store, SurveyRecord } from '../store/store.ts';

/** A kept survey; refused as `survey-unknown` where there is none. */
export async function getSurvey(store: Store, id: string): Promise<Result<SurveyRecord>> {
  const record = await store.findSurvey(id);
  return record === undefined ? refused(refusal('survey-unknown', { id })) : done(record);
}
