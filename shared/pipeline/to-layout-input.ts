import type { ComplexNetwork } from '../network/network.ts';
import type { LayoutInput } from '../placement/lay-even.ts';
import { makeRadius } from '../placement/make-radius.ts';
import type { Rules } from '../placement/rules.ts';
import type { Scheme } from '../scheme/scheme.ts';
import { rulesOf } from './rules-of.ts';

/** What the beacons of a complex are laid from: its network, the rules that hold, and what people put into the scheme. */
export function toLayoutInput(network: ComplexNetwork, surveyRules: Rules, scheme: Scheme): LayoutInput {
  const rules = rulesOf(surveyRules, scheme);
  return { network, rules, pins: scheme.pinned, keepOuts: scheme.keepOuts, radiusM: makeRadius(rules) };
}
