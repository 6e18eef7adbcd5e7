import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import type { Scheme } from '../scheme/scheme.ts';

/** The values that hold: the survey's, and over them the scheme's own; a survey may be older than a rule. */
export function rulesOf(surveyRules: Rules, scheme: Scheme): Rules {
  return { ...DEFAULT_RULES, ...surveyRules, ...scheme.rules };
}
