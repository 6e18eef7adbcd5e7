import { rankingWords } from '../ranking-words.ts';
import type { Store } from '../session/make-store.ts';
import { NumberField } from '../ui/number-field.tsx';
import { useStore } from '../ui/use-store.ts';
import type { Inputs } from './kept-inputs.ts';

type FactorCellsProps = { readonly id: string; readonly name: string; readonly store: Store<Inputs> };

const ANY = { unit: '', min: -1e12, max: 1e12, step: 1 };

/** One tunnel's values in the user's own columns. */
export function FactorCells({ id, name, store }: FactorCellsProps) {
  const { factors } = useStore(store);
  const set = (factor: string, value: number | undefined) =>
    store.patch({
      factors: factors.map((one) => {
        if (one.name !== factor) return one;
        const { [id]: _, ...others } = one.values;
        return { ...one, values: value === undefined ? others : { ...others, [id]: value } };
      }),
    });
  return (
    <>
      {factors.map((factor) => (
        <td key={factor.name} className="number">
          <NumberField
            label={rankingWords.ranking.factorOf(factor.name, name)}
            isLabelHidden
            isOptional
            spec={ANY}
            value={factor.values[id]}
            onCommit={(value) => set(factor.name, value)}
          />
        </td>
      ))}
    </>
  );
}

/** The heads over them. */
export function FactorHeads({ store }: { readonly store: Store<Inputs> }) {
  const { factors } = useStore(store);
  return (
    <>
      {factors.map(({ name, weight }) => (
        <th key={name} scope="col" className="number">
          {name} <span className="muted">{rankingWords.ranking.weighted(String(weight))}</span>
        </th>
      ))}
    </>
  );
}
