import { describe, expect, it } from 'vitest';
import type { RankingRow } from '../../shared/wire/ranking.ts';
import { toRankBars } from './to-rank-bars.ts';

function term(osmNode: number, without: number, withDesign = 0): RankingRow['terms'][number] {
  return {
    osmNode,
    linkId: `l${osmNode}`,
    where: 'underground',
    vehiclesPerDay: 1000,
    isTrafficAssumed: false,
    reachShare: 1,
    satnavShare: 1,
    routes: 1,
    misguidedShare: { without: 0.1, with: 0 },
    perDay: { without, with: withDesign },
  };
}

describe('toRankBars', () => {
  it('adds the approaches of a decision point and puts the heaviest first', () => {
    const names = new Map([[7, 'Quay / Town']]);
    const bars = toRankBars([term(3, 20, 1), term(7, 15, 2), term(7, 10, 3)], (node) => names.get(node));
    expect(bars).toEqual([
      { key: 'n7', osmNode: 7, name: 'Quay / Town', others: 0, without: 25, withDesign: 5 },
      { key: 'n3', osmNode: 3, name: undefined, others: 0, without: 20, withDesign: 1 },
    ]);
  });

  it('lets the lightest share one bar, so that nothing is lost', () => {
    const terms = [10, 9, 8, 7, 6, 5, 4, 3].map((perDay, i) => term(i + 1, perDay, 0.5));
    const bars = toRankBars(terms, () => undefined);
    expect(bars).toHaveLength(6);
    expect(bars.at(-1)).toMatchObject({ key: 'rest', others: 3, without: 12, withDesign: 1.5 });
    expect(bars.reduce((sum, { without }) => sum + without, 0)).toBe(52);
  });

  it('has no bars where nobody can be misguided', () => {
    expect(toRankBars([], () => 'x')).toEqual([]);
  });
});
