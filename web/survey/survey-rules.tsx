import { useState } from 'react';
import { DEFAULT_RULES, isChoice, type RuleName, type Rules } from '../../shared/placement/rules.ts';
import type { RulePatch } from '../../shared/wire/survey.ts';
import { ReadingOnly } from '../accounts/reading-only.tsx';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { useRights } from '../app/use-rights.ts';
import { ChoiceControl } from '../design/choice-control.tsx';
import { RuleControl } from '../design/rule-control.tsx';
import { RuleGroupBox } from '../design/rule-group-box.tsx';
import { RULE_GROUP_NAMES, RULE_GROUPS } from '../design/rule-groups.ts';
import type { ApiProblem } from '../session/api.ts';
import { Dialog } from '../ui/dialog.tsx';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { words } from '../words.ts';

/** The rules that hold wherever a tunnel has no value of its own. */
export function SurveyRules() {
  const { surveys, designs } = useSessions();
  const isNarrow = useMedia(NARROW);
  const { mayEdit } = useRights();
  const [isOpen, setOpen] = useState(false);
  const [problem, setProblem] = useState<ApiProblem>();
  const survey = useOpenView();
  if (survey === undefined) return null;
  // A survey may be older than a rule.
  const rules: Rules = { ...DEFAULT_RULES, ...survey.rules };
  const change = async (patch: RulePatch) => {
    setProblem(await surveys.changeRules(survey.id, patch));
    void designs.reloadCurrent();
  };
  const control = (rule: RuleName) => {
    const commit = (value: number | string) => void change({ [rule]: value });
    return isChoice(rule) ? (
      <ChoiceControl key={rule} rule={rule} value={rules[rule]} onChoose={commit} />
    ) : (
      <RuleControl key={rule} rule={rule} value={rules[rule]} onCommit={commit} />
    );
  };
  return (
    <>
      <button type="button" className="link" onClick={() => setOpen(true)}>
        {isNarrow ? words.table.rulesShort : words.table.rules}
      </button>
      <Dialog title={words.table.rules} isOpen={isOpen} onClose={() => setOpen(false)}>
        <div className="dialog-body">
          <p className="muted">{words.table.rulesNote}</p>
          {!mayEdit && <ReadingOnly />}
          <fieldset className="bare" disabled={!mayEdit}>
            {RULE_GROUP_NAMES.map((group) => (
              <RuleGroupBox key={group} title={words.rules.groups[group]}>
                {RULE_GROUPS[group].map(control)}
              </RuleGroupBox>
            ))}
          </fieldset>
          <p aria-live="polite">
            {problem === undefined
              ? words.table.beacons(survey.counts?.beacons ?? 0)
              : words.saving.refused(problem.detail)}
          </p>
        </div>
      </Dialog>
    </>
  );
}
