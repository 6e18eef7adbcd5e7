import type { RankingLeftOut } from '../../shared/wire/ranking.ts';
import { rankingWords } from '../ranking-words.ts';
import type { Store } from '../session/make-store.ts';
import { formatNumber } from '../ui/format.ts';
import { FactorCells, FactorHeads } from './factor-cells.tsx';
import { nameOfFilter } from './filter-section.tsx';
import type { Inputs } from './kept-inputs.ts';
import { TunnelLink } from './tunnel-link.tsx';
import { useNames } from './use-names.ts';

const say = rankingWords.ranking;

type LeftOutTableProps = { readonly leftOut: readonly RankingLeftOut[]; readonly store: Store<Inputs> };

/** What the filters leave out, with the figure that did it. */
export function LeftOutTable({ leftOut, store }: LeftOutTableProps) {
  const nameOf = useNames();
  if (leftOut.length === 0) return null;
  return (
    <div className="ranking-scroll">
      <table className="ranking-table" data-testid="left-out">
        <caption>{say.leftOut(leftOut.length)}</caption>
        <thead>
          <tr>
            <th scope="col">{say.columns.tunnel}</th>
            <th scope="col">{say.columns.why}</th>
            <FactorHeads store={store} />
          </tr>
        </thead>
        <tbody>
          {leftOut.map(({ id, unmet }) => (
            <tr key={id}>
              <td>
                <TunnelLink id={id} name={nameOf(id)} />
              </td>
              <td>{describeUnmet(unmet)}</td>
              <FactorCells id={id} name={nameOf(id)} store={store} />
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** `Cost 12,000, wanted at most 10,000`. */
function describeUnmet({ filter, found }: RankingLeftOut['unmet']): string {
  const name = nameOfFilter(filter);
  if (found === undefined) return say.noValue(name);
  return say.leftOutBy(name, toText(found), describeLimits(filter));
}

function describeLimits({ min, max }: RankingLeftOut['unmet']['filter']): string {
  if (min !== undefined && max !== undefined) return say.between(toText(min), toText(max));
  return min === undefined ? say.most(toText(max ?? 0)) : say.least(toText(min));
}

/** Ratios to money are small, money is large. */
function toText(value: number): string {
  const small = Math.abs(value) < 1 && value !== 0;
  return small ? String(Number(value.toPrecision(3))) : formatNumber(value, value % 1 === 0 ? 0 : 1);
}
