import { useState } from 'react';
import { RANK_FIELDS, type RankField, type RankFilter } from '../../shared/ranking/rank-filter.ts';
import { rankingWords } from '../ranking-words.ts';
import type { Store } from '../session/make-store.ts';
import { NumberField } from '../ui/number-field.tsx';
import { useStore } from '../ui/use-store.ts';
import { InputSection } from './input-section.tsx';
import type { Inputs } from './kept-inputs.ts';

const say = rankingWords.filters;
const ANY = { unit: '', min: -1e12, max: 1e12, step: 1 };

/** Which tunnels take part: by the least and the most of any figure or column. */
export function FilterSection({ store }: { readonly store: Store<Inputs> }) {
  const { filters, factors } = useStore(store);
  const [field, setField] = useState<string>(RANK_FIELDS[0]);
  const isFree = (filter: RankFilter) => !filters.some((one) => nameOfFilter(one) === nameOfFilter(filter));
  const choices = [
    ...RANK_FIELDS.map((one): RankFilter => ({ field: one })),
    ...factors.map(({ name }): RankFilter => ({ factor: name })),
  ].filter(isFree);
  const chosen = choices.find((choice) => toKey(choice) === field) ?? choices[0];
  const change = (index: number, end: 'min' | 'max', value: number | undefined) =>
    store.patch({ filters: filters.map((one, i) => (i === index ? withEnd(one, end, value) : one)) });
  return (
    <InputSection title={say.title} state={filters.length === 0 ? '' : say.count(filters.length)}>
      {filters.length === 0 && <p className="muted">{say.none}</p>}
      <ul className="input-list">
        {filters.map((filter, i) => {
          const name = nameOfFilter(filter);
          return (
            <li key={toKey(filter)}>
              <strong>{name}</strong>
              {(['min', 'max'] as const).map((end) => (
                <NumberField
                  key={end}
                  label={say[end]}
                  spec={ANY}
                  value={filter[end]}
                  isOptional
                  onCommit={(value) => change(i, end, value)}
                />
              ))}
              <button
                type="button"
                className="link"
                aria-label={say.remove(name)}
                onClick={() => store.patch({ filters: filters.filter((one) => one !== filter) })}
              >
                {say.removeShort}
              </button>
            </li>
          );
        })}
      </ul>
      {chosen !== undefined && (
        <div className="input-add">
          <select
            aria-label={say.field}
            value={toKey(chosen)}
            onChange={({ target }) => setField(target.value)}
          >
            {choices.map((choice) => (
              <option key={toKey(choice)} value={toKey(choice)}>
                {nameOfFilter(choice)}
              </option>
            ))}
          </select>
          <button type="button" onClick={() => store.patch({ filters: [...filters, chosen] })}>
            {say.add}
          </button>
        </div>
      )}
    </InputSection>
  );
}

/** What a filter is by, in words. */
export function nameOfFilter(filter: RankFilter | { field: RankField } | { factor: string }): string {
  return 'factor' in filter ? filter.factor : say.fields[filter.field];
}

function toKey(filter: RankFilter): string {
  return 'factor' in filter ? `factor ${filter.factor}` : filter.field;
}

function withEnd(filter: RankFilter, end: 'min' | 'max', value: number | undefined): RankFilter {
  const { [end]: _, ...others } = filter;
  return (value === undefined ? others : { ...others, [end]: value }) as RankFilter;
}
