import type { TunnelNetwork } from '../network/network.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import type { RulePatch } from '../wire/survey.ts';

/** The rules of a new survey: the defaults, the side that traffic keeps to where the roads show it, and over both what a person says. */
export function rulesFor({ drivingSide }: Pick<TunnelNetwork, 'drivingSide'>, patch: RulePatch = {}): Rules {
  const found = drivingSide === undefined ? {} : { drivingSide };
  return { ...DEFAULT_RULES, ...found, ...patch } as Rules;
}
