import type { ComplexNetwork } from '../../shared/network/network.ts';
import { rulesOf } from '../../shared/pipeline/rules-of.ts';
import { maxIntervalM } from '../../shared/placement/lay-even.ts';
import { makeRadius } from '../../shared/placement/make-radius.ts';
import { isChoice, type NumberRule, type RuleName, type Rules } from '../../shared/placement/rules.ts';
import { useRights } from '../app/use-rights.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { toShownScheme } from '../session/design-state.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { FewestSection } from './fewest-section.tsx';
import { makeRuleControls } from './make-rule-controls.tsx';
import { RuleGroupBox } from './rule-group-box.tsx';
import { RULE_GROUP_NAMES, RULE_GROUPS } from './rule-groups.ts';

/** Not among the other rules: in sight at all times, or in a section of their own (the method, the radio). */
const ELSEWHERE: readonly RuleName[] = [
  'method',
  'spacingM',
  'coverageRadiusM',
  'side',
  ...RULE_GROUPS.radio,
];

/** The number that says how far a beacon is heard, by where it is from; the radio model says it by itself. */
const RADIUS_RULE: Readonly<Record<Rules['coverageSource'], NumberRule | undefined>> = {
  hand: 'coverageRadiusM',
  measured: 'measuredRadiusM',
  model: undefined,
};

type RulesSectionProps = { readonly session: DesignSession; readonly open: OpenDesign };

/** The rules of this tunnel; results follow while a value is being typed or pulled. */
export function RulesSection({ session, open }: RulesSectionProps) {
  const { shown } = open;
  const { mayEdit } = useRights();
  const rules = rulesOf(open.surveyRules, toShownScheme(open));
  const radiusRule = RADIUS_RULE[rules.coverageSource];
  const limitM = findLimitM(open.network, rules);
  const hasBeacons = (shown?.design.beacons.length ?? 0) > 0;
  const { control, choice } = makeRuleControls(session, open);
  const show = (rule: RuleName) => (isChoice(rule) ? choice(rule) : control(rule));
  return (
    <section className="rules" aria-label={words.rules.title}>
      <fieldset className="bare" disabled={!mayEdit}>
        <FewestSection session={session} open={open} />
        {show('spacingM')}
        {radiusRule !== undefined && show(radiusRule)}
        {show('side')}
        <details>
          <summary>{words.rules.more}</summary>
          {RULE_GROUP_NAMES.map((group) => {
            const others = RULE_GROUPS[group].filter((rule) => !ELSEWHERE.includes(rule));
            return others.length === 0 ? null : (
              <RuleGroupBox key={group} title={words.rules.groups[group]}>
                {others.map(show)}
              </RuleGroupBox>
            );
          })}
        </details>
      </fieldset>
      <p className="result" aria-live="polite" data-testid="result">
        {shown === undefined
          ? words.loading
          : words.rules.result(shown.design.beacons.length, formatNumber(limitM, limitM % 1 === 0 ? 0 : 1))}
      </p>
      {hasBeacons && limitM < rules.spacingM && (
        <p className="notice warning" role="status">
          {words.rules.limited(formatNumber(limitM, 1))}
        </p>
      )}
    </section>
  );
}

/**
 * The greatest interval that is laid, metres, never above the spacing: even intervals are shortened where the coverage asks
 * for it; the fewest beacons keep the coverage without equal intervals, so up to the spacing.
 */
function findLimitM(network: ComplexNetwork, rules: Rules): number {
  if (rules.method === 'fewest') return rules.spacingM;
  const input = { network, rules, pins: [], keepOuts: [], radiusM: makeRadius(rules) };
  const driven = network.links.filter((link) => !link.restricted);
  return Math.min(rules.spacingM, ...driven.map((link) => maxIntervalM(input, link)));
}
