import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import { NUMBER_RULES, type NumberRule } from '../../shared/placement/rules.ts';
import { words } from '../words.ts';

type RuleControlProps = {
  readonly rule: NumberRule;
  readonly value: number;
  /** Shown beside the control where the tunnel may differ from the survey. */
  readonly survey?: { readonly value: number; readonly isOwn: boolean; readonly onReset: () => void };
  /** While typing or pulling; undefined where that was dropped. */
  readonly onPreview?: (value: number | undefined) => void;
  readonly onCommit: (value: number) => void;
};

/** Steps by keyboard in quick succession become one edit. */
const SETTLE_MS = 400;
/** The slider ends here: the values that are used; larger ones can be typed. */
const SLIDER_MAX = 200;

/** One rule as a number and a slider. */
export function RuleControl({ rule, value, survey, onPreview, onCommit }: RuleControlProps) {
  const { min, max, step, unit, label, meaning } = NUMBER_RULES[rule];
  const draft = useDraft(value, { min, max, onPreview, onCommit });
  const id = useId();
  const surveyText = survey === undefined ? '' : `${survey.value} ${unit}`.trim();
  const shared = {
    min,
    step,
    onInput: draft.input,
    onBlur: draft.blur,
    onKeyDown: draft.key,
  };
  return (
    <div className="rule">
      <label htmlFor={id} title={meaning}>
        {label}
      </label>
      <input
        {...shared}
        id={id}
        ref={draft.number}
        type="number"
        inputMode={step < 1 ? 'decimal' : 'numeric'}
        max={max}
        value={draft.text ?? String(value)}
        onChange={noop}
        aria-invalid={draft.isBad}
        aria-description={meaning}
        aria-describedby={draft.isBad ? `${id}-range` : undefined}
      />
      <span className="unit">{unit}</span>
      <input
        {...shared}
        ref={draft.slider}
        type="range"
        max={Math.min(max, SLIDER_MAX)}
        value={Number(draft.text ?? value)}
        onChange={noop}
        aria-label={unit === '' ? label : `${label}, ${unit}`}
        aria-valuetext={`${draft.text ?? value} ${unit}`.trim()}
      />
      {draft.isBad ? (
        <span id={`${id}-range`} className="bad">
          {words.rules.range(min, max, unit)}
        </span>
      ) : survey === undefined ? (
        <span />
      ) : survey.isOwn ? (
        <button
          type="button"
          className="link"
          aria-label={words.rules.resetLong(label, surveyText)}
          onClick={() => {
            // The button goes away; the focus stays on the rule.
            draft.slider.current?.focus();
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

/** React's onChange is the browser's input event, which is heard as onInput here. */
function noop(): void {}

type Limits = {
  readonly min: number;
  readonly max: number;
  readonly onPreview: ((value: number | undefined) => void) | undefined;
  readonly onCommit: (value: number) => void;
};

/** What is being typed or pulled: previewed at once, committed once. */
function useDraft(value: number, limits: Limits) {
  const [text, setText] = useState<string>();
  const number = useRef<HTMLInputElement>(null);
  const slider = useRef<HTMLInputElement>(null);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const latest = useRef({ text, limits, value });
  latest.current = { text, limits, value };

  const parse = (typed: string | undefined): number | undefined => {
    const parsed = typed === undefined || typed.trim() === '' ? Number.NaN : Number(typed);
    return parsed >= latest.current.limits.min && parsed <= latest.current.limits.max ? parsed : undefined;
  };
  const show = (typed: string | undefined) => {
    latest.current.text = typed;
    setText(typed);
  };
  /** Makes the draft an edit; one that is out of range is dropped. */
  const commit = () => {
    clearTimeout(timer.current);
    const { text: typed, value: before, limits: to } = latest.current;
    if (typed === undefined) return;
    const parsed = parse(typed);
    show(undefined);
    if (parsed === undefined || parsed === before) to.onPreview?.(undefined);
    else to.onCommit(parsed);
  };
  // The browser's own change event: released, left, Enter, or a step by key.
  // biome-ignore lint/correctness/useExhaustiveDependencies: set up once; everything is read from `latest`
  useEffect(() => {
    const settle = () => {
      clearTimeout(timer.current);
      if (parse(latest.current.text) !== undefined) timer.current = setTimeout(commit, SETTLE_MS);
    };
    const [field, bar] = [number.current, slider.current];
    field?.addEventListener('change', settle);
    bar?.addEventListener('change', settle);
    bar?.addEventListener('pointerup', commit);
    return () => {
      field?.removeEventListener('change', settle);
      bar?.removeEventListener('change', settle);
      bar?.removeEventListener('pointerup', commit);
      // Another tunnel was chosen before the draft settled: it is an edit all the same.
      commit();
    };
  }, []);
  return {
    text,
    number,
    slider,
    isBad: text !== undefined && parse(text) === undefined,
    input(event: { currentTarget: HTMLInputElement }) {
      const typed = event.currentTarget.value;
      show(typed);
      clearTimeout(timer.current);
      limits.onPreview?.(parse(typed));
    },
    blur: commit,
    key(event: KeyboardEvent) {
      // Undo takes back what was just set, so it must be an edit first.
      const isUndo = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'z';
      if (event.key === 'Enter' || isUndo) commit();
      if (event.key !== 'Escape' || text === undefined) return;
      // Only the draft is dropped; a dialog around it stays open.
      event.preventDefault();
      event.stopPropagation();
      clearTimeout(timer.current);
      show(undefined);
      limits.onPreview?.(undefined);
    },
  };
}
