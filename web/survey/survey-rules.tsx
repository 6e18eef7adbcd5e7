import { useState } from 'react';
import {
  CHOICE_RULES,
  type ChoiceRule,
  NUMBER_RULES,
  type NumberRule,
  type Rules,
} from '../../shared/placement/rules.ts';
import type { RulePatch } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { ChoiceControl } from '../design/choice-control.tsx';
import { RuleControl } from '../design/rule-control.tsx';
import type { ApiProblem } from '../session/api.ts';
import { Dialog } from '../ui/dialog.tsx';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { words } from '../words.ts';

/** The rules that hold wherever a tunnel has no value of its own. */
export function SurveyRules() {
  const { surveys, designs } = useSessions();
  const isNarrow = useMedia(NARROW);
  const [isOpen, setOpen] = useState(false);
  const [problem, setProblem] = useState<ApiProblem>();
  const survey = useOpenView();
  if (survey === undefined) return null;
  const rules = survey.rules as unknown as Rules;
  const change = async (patch: RulePatch) => {
    setProblem(await surveys.changeRules(survey.id, patch));
    void designs.reloadCurrent();
  };
  return (
    <>
      <button type="button" className="link" onClick={() => setOpen(true)}>
        {isNarrow ? words.table.rulesShort : words.table.rules}
      </button>
      <Dialog title={words.table.rules} isOpen={isOpen} onClose={() => setOpen(false)}>
        <div className="dialog-body">
          <p className="muted">{words.table.rulesNote}</p>
          {(Object.keys(NUMBER_RULES) as NumberRule[]).map((rule) => (
            <RuleControl
              key={rule}
              rule={rule}
              value={rules[rule]}
              onCommit={(value) => void change({ [rule]: value })}
            />
          ))}
          {(Object.keys(CHOICE_RULES) as ChoiceRule[]).map((rule) => (
            <ChoiceControl
              key={rule}
              rule={rule}
              value={rules[rule]}
              onChoose={(value) => void change({ [rule]: value })}
            />
          ))}
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
