import { useId, useRef } from 'react';
import { CHOICE_RULES, type ChoiceRule } from '../../shared/placement/rules.ts';
import { words } from '../words.ts';

type ChoiceControlProps = {
  readonly rule: ChoiceRule;
  /** One of the rule's options. */
  readonly value: string;
  /** Shown beside the control where the tunnel may differ from the survey. */
  readonly survey?: { readonly value: string; readonly isOwn: boolean; readonly onReset: () => void };
  readonly onChoose: (value: string) => void;
};

/** One rule that is a choice, with what the chosen option means. */
export function ChoiceControl({ rule, value, survey, onChoose }: ChoiceControlProps) {
  const id = useId();
  const select = useRef<HTMLSelectElement>(null);
  const { label, meaning } = CHOICE_RULES[rule];
  const options: Readonly<Record<string, string>> = CHOICE_RULES[rule].options;
  const names: Readonly<Record<string, string>> = words.rules.options[rule];
  const surveyText = survey === undefined ? '' : (names[survey.value] ?? '');
  return (
    <div className="rule choice">
      <label htmlFor={id} title={meaning}>
        {label}
      </label>
      <select
        id={id}
        ref={select}
        value={value}
        title={options[value]}
        aria-description={`${meaning} ${options[value] ?? ''}`}
        onChange={(event) => onChoose(event.currentTarget.value)}
      >
        {Object.keys(options).map((option) => (
          <option key={option} value={option}>
            {names[option]}
          </option>
        ))}
      </select>
      {survey === undefined ? null : survey.isOwn ? (
        <button
          type="button"
          className="link"
          aria-label={words.rules.resetLong(label, surveyText)}
          onClick={() => {
            // The button goes away; the focus stays on the rule.
            select.current?.focus();
            survey.onReset();
          }}
        >
          {words.rules.reset} ({surveyText})
        </button>
      ) : (
        <span className="muted">{words.rules.surveyValue(surveyText)}</span>
      )}
    </div>
  );
}
