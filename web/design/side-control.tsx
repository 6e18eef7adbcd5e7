import { useId } from 'react';
import type { Side } from '../../shared/placement/rules.ts';
import { words } from '../words.ts';

type SideControlProps = {
  readonly value: Side;
  readonly survey?: { readonly value: Side; readonly isOwn: boolean; readonly onReset: () => void };
  readonly onChoose: (side: Side) => void;
};

/** Which wall carries the beacons. */
export function SideControl({ value, survey, onChoose }: SideControlProps) {
  const name = useId();
  return (
    <fieldset className="rule side">
      <legend title={words.rules.sideMeaning}>{words.rules.side}</legend>
      <span className="segments">
        {(['left', 'right'] as const).map((side) => (
          <label key={side}>
            <input type="radio" name={name} checked={value === side} onChange={() => onChoose(side)} />
            {words.rules.sides[side]}
          </label>
        ))}
      </span>
      {survey === undefined ? null : survey.isOwn ? (
        <button
          type="button"
          className="link"
          aria-label={words.rules.resetLong(words.rules.side, words.rules.sides[survey.value])}
          onClick={survey.onReset}
        >
          {words.rules.reset} ({words.rules.sides[survey.value]})
        </button>
      ) : (
        <span className="muted">{words.rules.surveyValue(words.rules.sides[survey.value])}</span>
      )}
    </fieldset>
  );
}
