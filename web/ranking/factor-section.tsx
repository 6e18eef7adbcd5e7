import { type FormEvent, useId, useState } from 'react';
import { WEIGHT_RANGE } from '../../shared/ranking/rank-score.ts';
import { rankingWords } from '../ranking-words.ts';
import type { Store } from '../session/make-store.ts';
import { NumberField } from '../ui/number-field.tsx';
import { useStore } from '../ui/use-store.ts';
import { InputSection } from './input-section.tsx';
import type { Inputs, OwnFactor } from './kept-inputs.ts';

const say = rankingWords.factors;
/** A column that is added counts at once. */
const FIRST_WEIGHT = 1;

/** The user's own columns: name and weight; their values stand in the table. */
export function FactorSection({ store }: { readonly store: Store<Inputs> }) {
  const { factors, filters } = useStore(store);
  const [name, setName] = useState('');
  const id = useId();
  const wanted = name.trim();
  const isTwice = factors.some((factor) => factor.name === wanted);
  const add = (event: FormEvent) => {
    event.preventDefault();
    if (wanted === '' || isTwice) return;
    store.patch({ factors: [...factors, { name: wanted, weight: FIRST_WEIGHT, values: {} }] });
    setName('');
  };
  const change = (changed: OwnFactor) =>
    store.patch({ factors: factors.map((one) => (one.name === changed.name ? changed : one)) });
  const remove = (gone: string) =>
    store.patch({
      factors: factors.filter((one) => one.name !== gone),
      // A filter by a column that is no more would refuse everything.
      filters: filters.filter((filter) => !('factor' in filter) || filter.factor !== gone),
    });
  return (
    <InputSection title={say.title} state={factors.length === 0 ? '' : say.count(factors.length)}>
      <p className="muted">{say.note}</p>
      <ul className="input-list">
        {factors.map((factor) => (
          <li key={factor.name}>
            <strong>{factor.name}</strong>
            <NumberField
              label={say.weight}
              spec={WEIGHT_RANGE}
              value={factor.weight}
              onCommit={(weight = 0) => change({ ...factor, weight })}
            />
            <button
              type="button"
              className="link"
              aria-label={say.remove(factor.name)}
              onClick={() => remove(factor.name)}
            >
              {say.removeShort}
            </button>
          </li>
        ))}
      </ul>
      <form className="input-add" onSubmit={add}>
        <label htmlFor={id}>{say.name}</label>
        <input
          id={id}
          value={name}
          maxLength={100}
          placeholder={say.addHint}
          onChange={({ target }) => setName(target.value)}
        />
        <button type="submit" disabled={wanted === '' || isTwice}>
          {say.add}
        </button>
        {isTwice && <span className="bad">{say.twice}</span>}
      </form>
    </InputSection>
  );
}
