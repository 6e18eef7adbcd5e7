import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import { RULES, type RuleName } from '../../shared/placement/rules.ts';
import { words } from '../words.ts';

type RuleControlProps = {
  readonly rule: RuleName;
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
  const { min, max, step, unit, label, meaning } = RULES[rule];
  const draft = useDraft(value, { min, max, onPreview, onCommit });
  const id = useId();
  const surveyText = survey === undefined ? '' : `${survey.value} ${unit}`;
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
        inputMode="numeric"
        max={max}
        value={draft.text ?? String(value)}
        onChange={noop}
        aria-invalid={draft.isBad}
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
        aria-label={`${label}, ${unit}`}
        aria-valuetext={`${draft.text ?? value} ${unit}`}
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
          onClick={survey.onReset}
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
    return parsed >= limits.min && parsed <= limits.max ? parsed : undefined;
  };
  const commit = useRef(() => {});
  commit.current = () => {
    clearTimeout(timer.current);
    timer.current = undefined;
    const { text: typed, value: before } = latest.current;
    if (typed === undefined) return;
    const parsed = parse(typed);
    latest.current.text = undefined;
    setText(undefined);
    if (parsed === undefined || parsed === before) limits.onPreview?.(undefined);
    else limits.onCommit(parsed);
  };
  // The browser's own change event: released, left, Enter, or a step by key.
  useEffect(() => {
    const settle = () => {
      if (parse(latest.current.text) === undefined) return;
      clearTimeout(timer.current);
      timer.current = setTimeout(() => commit.current(), SETTLE_MS);
    };
    const release = () => commit.current();
    const inputs = [number.current, slider.current];
    for (const input of inputs) input?.addEventListener('change', settle);
    slider.current?.addEventListener('pointerup', release);
    const bar = slider.current;
    return () => {
      clearTimeout(timer.current);
      for (const input of inputs) input?.removeEventListener('change', settle);
      bar?.removeEventListener('pointerup', release);
    };
  });
  return {
    text,
    number,
    slider,
    isBad: text !== undefined && parse(text) === undefined,
    input(event: { currentTarget: HTMLInputElement }) {
      const typed = event.currentTarget.value;
      setText(typed);
      latest.current.text = typed;
      clearTimeout(timer.current);
      limits.onPreview?.(parse(typed));
    },
    blur: () => commit.current(),
    key(event: KeyboardEvent) {
      if (event.key === 'Enter') commit.current();
      if (event.key !== 'Escape' || text === undefined) return;
      event.stopPropagation();
      clearTimeout(timer.current);
      setText(undefined);
      latest.current.text = undefined;
      limits.onPreview?.(undefined);
    },
  };
}
