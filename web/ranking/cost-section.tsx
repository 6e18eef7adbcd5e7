import { COST_FIELDS, type Costs, DEFAULT_COSTS } from '../../shared/ranking/cost.ts';
import { rankingWords } from '../ranking-words.ts';
import type { Store } from '../session/make-store.ts';
import { NumberField } from '../ui/number-field.tsx';
import { useStore } from '../ui/use-store.ts';
import { InputSection } from './input-section.tsx';
import type { Inputs } from './kept-inputs.ts';

const NAMES = Object.keys(COST_FIELDS) as (keyof Costs)[];

/** What mounting costs, each figure editable; ranking and programme share them. */
export function CostSection({ store }: { readonly store: Store<Inputs> }) {
  const { costs } = useStore(store);
  const say = rankingWords.costs;
  const changed = NAMES.filter((name) => costs[name] !== undefined).length;
  const set = (name: keyof Costs, value: number | undefined) => {
    const { [name]: _, ...others } = costs;
    const isDefault = value === undefined || value === DEFAULT_COSTS[name];
    store.patch({ costs: isDefault ? others : { ...others, [name]: value } });
  };
  return (
    <InputSection title={say.title} state={changed === 0 ? '' : say.changed(changed)}>
      <p className="muted">{say.note}</p>
      <div className="fields">
        {NAMES.map((name) => (
          <NumberField
            key={name}
            label={COST_FIELDS[name].label}
            meaning={COST_FIELDS[name].meaning}
            spec={COST_FIELDS[name]}
            isWhole={name === 'crewsPerNight'}
            value={costs[name] ?? DEFAULT_COSTS[name]}
            onCommit={(value) => set(name, value)}
          />
        ))}
      </div>
      {changed > 0 && (
        <button type="button" className="link" onClick={() => store.patch({ costs: {} })}>
          {say.reset}
        </button>
      )}
    </InputSection>
  );
}
