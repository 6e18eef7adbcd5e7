import profile from '../../data/profiles/rules.json';
import { type Refusal, refusal } from '../outcome/refusal.ts';

/** The set that the values are from; raised whenever one of them changes. */
export const RULES_VERSION: number = profile.version;

export type NumberRule = keyof typeof profile.numbers;
export type ChoiceRule = keyof typeof profile.choices;
export type RuleName = NumberRule | ChoiceRule;

/** One number's meaning and the range that is accepted; units are in the name's suffix too. */
export type NumberSpec = {
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** Only whole numbers mean something. */
  readonly isWhole?: boolean;
  readonly fallback: number;
  readonly label: string;
  readonly meaning: string;
  readonly source: string;
};

/** One choice's meaning, and what each of its options means. */
export type ChoiceSpec<Option extends string = string> = {
  readonly label: string;
  readonly meaning: string;
  readonly source: string;
  readonly fallback: string;
  readonly options: Readonly<Record<Option, string>>;
};

export type Option<C extends ChoiceRule> = keyof (typeof profile.choices)[C]['options'] & string;

/** A value for every rule. */
export type Rules = { readonly [N in NumberRule]: number } & { readonly [C in ChoiceRule]: Option<C> };

/** Range, default, meaning and source of every number that a design is laid and checked with. */
export const NUMBER_RULES: { readonly [N in NumberRule]: NumberSpec } = profile.numbers;

/** The rules that are a choice. */
export const CHOICE_RULES: { readonly [C in ChoiceRule]: ChoiceSpec<Option<C>> } = profile.choices;

/** The values that hold unless a survey or a scheme says otherwise. */
export const DEFAULT_RULES: Rules = Object.fromEntries(
  Object.entries({ ...NUMBER_RULES, ...CHOICE_RULES }).map(([name, { fallback }]) => [name, fallback]),
) as Rules;

/** Whether a rule is a choice and not a number. */
export function isChoice(rule: RuleName): rule is ChoiceRule {
  return rule in CHOICE_RULES;
}

/** The refusal `rule-invalid` or `choice-invalid` where a rule may not have a value; undefined where it may. */
export function checkRule(rule: RuleName, value: number | string): Refusal | undefined {
  if (isChoice(rule)) {
    const { label, options } = CHOICE_RULES[rule];
    if (typeof value === 'string' && Object.hasOwn(options, value)) return undefined;
    return refusal('choice-invalid', { rule: label, options: Object.keys(options).join(', '), value });
  }
  const { label, min, max, unit, isWhole = false } = NUMBER_RULES[rule];
  const isIn = typeof value === 'number' && value >= min && value <= max;
  if (isIn && !(isWhole && value % 1 !== 0)) return undefined;
  if (isIn) return refusal('rule-not-whole', { rule: label, value });
  return refusal('rule-invalid', { rule: label, min, max, unit, value });
}
