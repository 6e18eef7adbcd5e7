import { EXPORTED_LAYERS } from '../wire/layers.ts';
import { listSurveyFiles, type SurveyParts } from './list-survey-files.ts';

/** Every file of a survey with its text, by name: the folder that the command line writes. */
export function toSurveyFiles(parts: SurveyParts): ReadonlyMap<string, string> {
  const files = listSurveyFiles(EXPORTED_LAYERS, parts);
  return new Map(files.map(({ name, pieces }) => [name, [...pieces].join('')]));
}
