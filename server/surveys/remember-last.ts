import type { Result } from '../../shared/outcome/result.ts';

/** Answers for so many surveys are kept; the one that was asked for longest ago goes first. */
const KEPT = 8;

/**
 * Keeps the last answer for each survey, so that what was compared is what will be adopted, and two who ask at once
 * wait for one. Refusals and faults are not kept.
 *
 * @param keyOf a text that is another one whenever the answer may be.
 */
export function rememberLast<S extends { readonly id: string }, A extends readonly unknown[], T>(
  ask: (survey: S, ...rest: A) => Promise<Result<T>>,
  keyOf: (survey: S, ...rest: A) => string,
) {
  const kept = new Map<string, { readonly key: string; readonly answer: Promise<Result<T>> }>();
  return {
    ask(survey: S, ...rest: A): Promise<Result<T>> {
      const key = keyOf(survey, ...rest);
      const last = kept.get(survey.id);
      if (last?.key === key) return last.answer;
      const entry = { key, answer: ask(survey, ...rest) };
      kept.delete(survey.id);
      kept.set(survey.id, entry);
      for (const id of [...kept.keys()].slice(0, -KEPT)) kept.delete(id);
      const forget = () => {
        if (kept.get(survey.id) === entry) kept.delete(survey.id);
      };
      entry.answer.then((result) => {
        if (!result.ok) forget();
      }, forget);
      return entry.answer;
    },
    forget: (surveyId: string): void => void kept.delete(surveyId),
  };
}
