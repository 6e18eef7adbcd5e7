import type { SurveyView } from '../../shared/wire/survey.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatDate } from '../ui/format.ts';

/** On paper, where there is no map to say it: which survey this is, how old, and whose data. */
export function PrintSource({ survey }: { readonly survey: SurveyView }) {
  const { timestamp, attribution } = survey.source ?? {};
  return (
    <p className="only-print">
      {rankingWords.printed(
        survey.name,
        attribution,
        timestamp === undefined ? undefined : formatDate(timestamp),
        survey.revision,
      )}
    </p>
  );
}
