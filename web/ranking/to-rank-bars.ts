import type { RankingRow } from '../../shared/wire/ranking.ts';

/** A decision point with all its approaches, or several that are drawn together; misguided drivers a day. */
export type RankBar = {
  readonly key: string;
  readonly osmNode: number;
  /** Where its roads lead; undefined where that is not known, and for several. */
  readonly name: string | undefined;
  /** How many points are drawn together; 0 for a single one. */
  readonly others: number;
  readonly without: number;
  readonly withDesign: number;
};

/** So many decision points have a bar of their own. */
const MOST_BARS = 6;

/**
 * The terms of a rank as bars: one for each decision point, its approaches added up, the heaviest first; where there are
 * many, the lightest share one, so that the bars always add up to the whole.
 */
export function toRankBars(
  terms: RankingRow['terms'],
  nameOf: (osmNode: number) => string | undefined,
): readonly RankBar[] {
  const sums = new Map<number, { without: number; withDesign: number }>();
  for (const { osmNode, perDay } of terms) {
    const sum = sums.get(osmNode) ?? { without: 0, withDesign: 0 };
    sum.without += perDay.without;
    sum.withDesign += perDay.with;
    sums.set(osmNode, sum);
  }
  const bars = [...sums]
    .map(([osmNode, sum]): RankBar => {
      return { key: `n${osmNode}`, osmNode, name: nameOf(osmNode) || undefined, others: 0, ...sum };
    })
    .sort((a, b) => b.without - a.without || a.osmNode - b.osmNode);
  if (bars.length <= MOST_BARS) return bars;
  const rest = bars.slice(MOST_BARS - 1);
  const add = (which: 'without' | 'withDesign') => rest.reduce((sum, bar) => sum + bar[which], 0);
  return [
    ...bars.slice(0, MOST_BARS - 1),
    {
      key: 'rest',
      osmNode: 0,
      name: undefined,
      others: rest.length,
      without: add('without'),
      withDesign: add('withDesign'),
    },
  ];
}
