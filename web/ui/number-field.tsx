import { type KeyboardEvent, useId, useState } from 'react';
import type { NumberSpec } from '../../shared/placement/rules.ts';
import { words } from '../words.ts';

export type NumberFieldProps = {
  readonly label: string;
  readonly spec: Pick<NumberSpec, 'unit' | 'min' | 'max' | 'step'>;
  readonly isWhole?: boolean;
  readonly meaning?: string;
  /** The label is read aloud and not shown: a table's head says it already. */
  readonly isLabelHidden?: boolean;
  /** Undefined: nothing is set. */
  readonly value: number | undefined;
  /** Undefined where the field was emptied; only then where `isOptional`. */
  readonly onCommit: (value: number | undefined) => void;
  readonly isOptional?: boolean;
};

/** A number that is taken when the field is left or Enter is pressed; what is out of range is said and dropped. */
export function NumberField(props: NumberFieldProps) {
  const { label, spec, value, meaning, isLabelHidden = false, isOptional = false, onCommit } = props;
  const [text, setText] = useState<string>();
  const id = useId();
  const parse = (typed: string): number | undefined | 'bad' => {
    if (typed.trim() === '') return isOptional ? undefined : 'bad';
    const parsed = Number(typed);
    const isFit = parsed >= spec.min && parsed <= spec.max && (!props.isWhole || Number.isInteger(parsed));
    return isFit ? parsed : 'bad';
  };
  const isBad = text !== undefined && parse(text) === 'bad';
  const commit = () => {
    if (text === undefined) return;
    setText(undefined);
    const parsed = parse(text);
    if (parsed !== 'bad' && parsed !== value) onCommit(parsed);
  };
  const press = (event: KeyboardEvent) => {
    if (event.key === 'Enter') commit();
    if (event.key !== 'Escape' || text === undefined) return;
    event.stopPropagation();
    setText(undefined);
  };
  return (
    <div className="number-field">
      <label htmlFor={id} title={meaning} className={isLabelHidden ? 'hidden-from-sight' : ''}>
        {label}
      </label>
      <input
        id={id}
        type="number"
        inputMode={props.isWhole ? 'numeric' : 'decimal'}
        min={spec.min}
        max={spec.max}
        step={spec.step}
        value={text ?? (value === undefined ? '' : String(value))}
        aria-invalid={isBad}
        aria-describedby={isBad ? `${id}-range` : undefined}
        onChange={({ target }) => setText(target.value)}
        onBlur={commit}
        onKeyDown={press}
      />
      {!isLabelHidden && <span className="unit">{spec.unit}</span>}
      {isBad && (
        <span id={`${id}-range`} className="bad">
          {words.rules.range(spec.min, spec.max, spec.unit)}
        </span>
      )}
    </div>
  );
}
