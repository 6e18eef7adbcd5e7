import { rulesOf } from '../../shared/pipeline/rules-of.ts';
import {
  type ChoiceRule,
  DEFAULT_RULES,
  type NumberRule,
  type RuleName,
} from '../../shared/placement/rules.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { ChoiceControl } from './choice-control.tsx';
import { RuleControl } from './rule-control.tsx';

/** Makes the controls of a tunnel's rules: numbers are previewed while they are pulled, each change is one edit. */
export function makeRuleControls(session: DesignSession, open: OpenDesign) {
  const { scheme } = open;
  const rules = rulesOf(open.surveyRules, scheme);
  const surveyRules = { ...DEFAULT_RULES, ...open.surveyRules };
  const common = (rule: RuleName) => ({
    isOwn: scheme.rules[rule] !== undefined,
    onReset: () => session.commit({ kind: 'setRule', rule, value: null }),
  });
  return {
    control: (rule: NumberRule) => (
      <RuleControl
        key={rule}
        rule={rule}
        value={rules[rule]}
        survey={{ value: surveyRules[rule], ...common(rule) }}
        onPreview={(value) =>
          session.preview(value === undefined ? undefined : { kind: 'setRule', rule, value })
        }
        onCommit={(value) => session.commit({ kind: 'setRule', rule, value })}
      />
    ),
    choice: (rule: ChoiceRule) => (
      <ChoiceControl
        key={rule}
        rule={rule}
        value={rules[rule]}
        survey={{ value: surveyRules[rule], ...common(rule) }}
        onChoose={(value) => session.commit({ kind: 'setRule', rule, value })}
      />
    ),
  };
}
