import type { ChoiceRule, NumberRule } from '../../shared/placement/rules.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { toShownScheme } from '../session/design-state.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { ChoiceControl } from './choice-control.tsx';
import { RuleControl } from './rule-control.tsx';

const SHOWN: readonly NumberRule[] = ['spacingM', 'coverageRadiusM'];
const MORE: readonly NumberRule[] = [
  'portalOffsetM',
  'closestM',
  'redundancy',
  'coverageDepth',
  'branchConfirmationM',
  'decisionBeacons',
  'decisionTimeS',
  'failureShare',
  'minimumOutageS',
  'mountingHeightM',
  'laneWidthM',
  'shoulderM',
];

type RulesSectionProps = { readonly session: DesignSession; readonly open: OpenDesign };

/** The rules of this tunnel; results follow while a value is being typed or pulled. */
export function RulesSection({ session, open }: RulesSectionProps) {
  const { scheme, surveyRules, shown } = open;
  const spacingM = toShownScheme(open).rules.spacingM ?? surveyRules.spacingM;
  const coverageRadiusM = toShownScheme(open).rules.coverageRadiusM ?? surveyRules.coverageRadiusM;
  const uncoveredM = spacingM - 2 * coverageRadiusM;
  const hasBeacons = (shown?.design.beacons.length ?? 0) > 0;
  const preview = (rule: NumberRule) => (value: number | undefined) =>
    session.preview(value === undefined ? undefined : { kind: 'setRule', rule, value });
  const control = (rule: NumberRule) => (
    <RuleControl
      key={rule}
      rule={rule}
      value={scheme.rules[rule] ?? surveyRules[rule]}
      survey={{
        value: surveyRules[rule],
        isOwn: scheme.rules[rule] !== undefined,
        onReset: () => session.commit({ kind: 'setRule', rule, value: null }),
      }}
      onPreview={preview(rule)}
      onCommit={(value) => session.commit({ kind: 'setRule', rule, value })}
    />
  );
  const choice = (rule: ChoiceRule) => (
    <ChoiceControl
      key={rule}
      rule={rule}
      value={scheme.rules[rule] ?? surveyRules[rule]}
      survey={{
        value: surveyRules[rule],
        isOwn: scheme.rules[rule] !== undefined,
        onReset: () => session.commit({ kind: 'setRule', rule, value: null }),
      }}
      onChoose={(value) => session.commit({ kind: 'setRule', rule, value })}
    />
  );
  return (
    <section className="rules" aria-label={words.rules.title}>
      {SHOWN.map(control)}
      {choice('side')}
      <details>
        <summary>{words.rules.more}</summary>
        {MORE.map(control)}
        {choice('drivingSide')}
      </details>
      <p className="result" aria-live="polite" data-testid="result">
        {shown === undefined
          ? words.loading
          : words.rules.result(
              shown.design.beacons.length,
              formatNumber(spacingM, spacingM % 1 === 0 ? 0 : 1),
            )}
      </p>
      {hasBeacons && uncoveredM > 0 && (
        <p className="notice warning" role="status">
          {words.rules.uncovered(formatNumber(uncoveredM))}
        </p>
      )}
    </section>
  );
}
