import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ComplexId, LinkId } from '../network/network.ts';
import { drawDecision, drawRankInput, drawTunnelInput } from './rank.fixture.ts';
import { type RankInput, rankTunnels } from './rank.ts';
import { RANK_FIELDS } from './rank-filter.ts';

const order = (input: RankInput) => rankTunnels(input).ranked.map(({ complexId }) => complexId);
const column = (entries: Readonly<Record<string, number>>) =>
  new Map(Object.entries(entries).map(([id, value]) => [id as ComplexId, value]));

describe('rankTunnels', () => {
  it('counts vehicles × guided share × mean failing share, each approach once', () => {
    const tunnel = {
      ...drawTunnelInput('t', 0, 0, 2000),
      decisions: [
        // Two routes by link a: 0.5 and 0.1 of the drives fail, 0.3 in the mean.
        drawDecision(7, 'a', 'r1', [0.4, 0.1], [0.02, 0]),
        drawDecision(7, 'a', 'r2', [0, 0.1], [0, 0]),
        // The same node by link b, and a node farther on by link a.
        drawDecision(7, 'b', 'r3', [0.2, 0], [0.1, 0]),
        drawDecision(9, 'a', 'r1', [0.9, 0.3], [0, 0]),
        // One that a quarter of those on link b come by.
        {
          ...drawDecision(11, 'b', 'r3', [0.5, 0], [0, 0]),
          where: 'after portal' as const,
          reachShare: 0.25,
        },
      ],
      traffic: new Map([
        ['a' as LinkId, { vehiclesPerDay: 10_000, isAssumed: false }],
        ['b' as LinkId, { vehiclesPerDay: 1000, isAssumed: true }],
      ]),
    };
    const [ranked] = rankTunnels(drawRankInput(tunnel)).ranked;
    const terms = ranked?.misguided.terms ?? [];
    expect(terms.map(({ osmNode, linkId, routes }) => [osmNode, linkId, routes])).toEqual([
      [7, 'a', 2],
      [7, 'b', 1],
      [9, 'a', 1],
      [11, 'b', 1],
    ]);
    expect(terms.map((t) => t.perDay.without)).toEqual([
      expect.closeTo(10_000 * 0.3 * 0.3, 9),
      expect.closeTo(1000 * 0.3 * 0.2, 9),
      // 0.9 late and 0.3 early: no more than every drive fails.
      expect.closeTo(10_000 * 0.3 * 1, 9),
      expect.closeTo(1000 * 0.25 * 0.3 * 0.5, 9),
    ]);
    expect(ranked?.misguided.perDay.without).toBeCloseTo(900 + 60 + 3000 + 37.5, 9);
    expect(ranked?.misguided.perDay.with).toBeCloseTo(30 + 30, 9);
    expect(ranked?.avoidedPerDay).toBeCloseTo(3937.5, 9);
    expect(ranked?.avoidedPerCost).toBeCloseTo(1.96875, 9);
    expect(ranked).toMatchObject({ isTrafficAssumed: true, rank: 1 });
  });

  it('sums its terms to the last bit, in the order shown, whatever the order given', () => {
    const share = fc.double({ min: 0, max: 0.5, noNaN: true });
    const decision = fc
      .tuple(fc.integer({ min: 1, max: 4 }), fc.constantFrom('a', 'b', 'c'), share, share, share)
      .map(([node, link, late, early, withLate]) =>
        drawDecision(node, link, 'r', [late, early], [withLate, 0]),
      );
    const traffic = new Map(
      ['a', 'b', 'c'].map((id, i) => [id as LinkId, { vehiclesPerDay: 1234.5 * (i + 1), isAssumed: false }]),
    );
    fc.assert(
      fc.property(fc.array(decision, { maxLength: 12 }), (list) => {
        const decisions = list.map((d, i) => ({ ...d, routeId: `r${i}` }));
        const of = (given: typeof decisions) =>
          rankTunnels(drawRankInput({ ...drawTunnelInput('t', 0, 0, 10), decisions: given, traffic }))
            .ranked[0];
        const figures = of(decisions);
        expect(of(decisions.toReversed())).toEqual(figures);
        for (const which of ['without', 'with'] as const) {
          const sum = figures?.misguided.terms.reduce((s, t) => s + t.perDay[which], 0);
          expect(figures?.misguided.perDay[which]).toBe(sum);
          for (const t of figures?.misguided.terms ?? []) {
            expect(t.vehiclesPerDay * t.satnavShare * t.misguidedShare[which]).toBe(t.perDay[which]);
          }
        }
      }),
    );
  });

  it('orders by drivers avoided for each unit of money, not by drivers', () => {
    const [dear, cheap] = [
      drawTunnelInput('dear', 20_000, 0.5, 9000),
      drawTunnelInput('cheap', 5000, 0.5, 1000),
    ];
    expect(order(drawRankInput(dear, cheap))).toEqual(['cheap', 'dear']);
  });

  it('puts those without decision points last, the longest outage times traffic first', () => {
    const none = (id: string, vehiclesPerDay: number, outageS: number) => ({
      ...drawTunnelInput(id, vehiclesPerDay, 0, 100),
      decisions: [],
      outageS,
    });
    const good = drawTunnelInput('z', 1, 0.1, 100);
    const worse = {
      ...good,
      complexId: 'y' as ComplexId,
      decisions: [drawDecision(1, 'a', 'r', [0, 0], [1, 0])],
    };
    expect(
      order(drawRankInput(none('a', 100, 10), none('b', 100, 20), none('c', 300, 10), worse, good)),
    ).toEqual(['z', 'y', 'c', 'b', 'a']);
  });

  it('ranks what costs nothing, and so mounts nothing, at a ratio of 0', () => {
    const [ranked] = rankTunnels(drawRankInput(drawTunnelInput('t', 100, 0.5, 0))).ranked;
    expect(ranked).toMatchObject({ avoidedPerCost: 0, score: 0 });
  });

  it('throws where an approach has no traffic', () => {
    const tunnel = { ...drawTunnelInput('t', 100, 0.5, 10), traffic: new Map() };
    expect(() => rankTunnels(drawRankInput(tunnel))).toThrow('no traffic for link a');
  });
});

describe('factors', () => {
  const [a, b, c] = [
    drawTunnelInput('a', 1000, 0.5, 100),
    drawTunnelInput('b', 900, 0.5, 100),
    drawTunnelInput('c', 500, 0.5, 100),
  ];
  const values = column({ a: 10, b: 30, c: 20 });

  it('multiply the score by 1 + weight × the place between lowest and highest', () => {
    const { ranked } = rankTunnels({
      ...drawRankInput(a, b, c),
      factors: [{ name: 'hospital', weight: 0.4, values }],
    });
    expect(ranked.map(({ complexId }) => complexId)).toEqual(['b', 'a', 'c']);
    expect(ranked.map(({ factors }) => factors[0]?.normalised)).toEqual([1, 0, 0.5]);
    expect(ranked.map(({ factors }) => factors[0]?.multiplier)).toEqual([1.4, 1, 1.2]);
    expect(ranked[0]?.score).toBeCloseTo(((900 * 0.3 * 0.5) / 100) * 1.4, 12);
  });

  it('leave the order alone at weight 0, where all are alike, and for a tunnel without a value', () => {
    const plain = order(drawRankInput(a, b, c));
    const withFactor = (weight: number, of: Readonly<Record<string, number>>) =>
      order({ ...drawRankInput(a, b, c), factors: [{ name: 'f', weight, values: column(of) }] });
    expect(withFactor(0, { a: 1, b: 2, c: 3 })).toEqual(plain);
    expect(withFactor(5, { a: 7, b: 7, c: 7 })).toEqual(plain);
    expect(withFactor(5, { a: 1 })).toEqual(plain);
    expect(withFactor(5, { a: 1, b: 2 })).toEqual(['b', 'a', 'c']);
    expect(withFactor(-1, { a: 2, b: 1, c: 1 })).toEqual(['b', 'c', 'a']);
  });

  it('never make a design that misguides more drivers better', () => {
    const bad = { ...a, decisions: [drawDecision(1, 'a', 'r', [0, 0], [0.5, 0])] };
    const of = (weight: number) =>
      rankTunnels({ ...drawRankInput(bad, b), factors: [{ name: 'f', weight, values }] }).ranked[1];
    expect(of(-1)?.score).toBe(of(0)?.score);
    expect(of(0)?.score).toBeLessThan(0);
  });

  it('throw for a weight outside its range and a value that is no number', () => {
    for (const weight of [-1.1, 11, Number.NaN]) {
      expect(() => rankTunnels({ ...drawRankInput(a), factors: [{ name: 'f', weight, values }] })).toThrow();
    }
    const wrong = column({ a: Number.NaN });
    expect(() =>
      rankTunnels({ ...drawRankInput(a), factors: [{ name: 'f', weight: 1, values: wrong }] }),
    ).toThrow('f of a');
  });
});

describe('filters', () => {
  const tunnels = [drawTunnelInput('a', 1000, 0.5, 100), drawTunnelInput('b', 900, 0.5, 300)];
  const factors = [{ name: 'f', weight: 1, values: column({ a: 1, b: 2 }) }];

  it('leave tunnels out with the reason, both limits included, and change no score', () => {
    const all = rankTunnels({ ...drawRankInput(...tunnels), factors });
    const filter = { field: 'cost', min: 200, max: 300 } as const;
    const some = rankTunnels({ ...drawRankInput(...tunnels), factors, filters: [filter] });
    expect(some.ranked.map(({ complexId, rank }) => [complexId, rank])).toEqual([['b', 1]]);
    expect(some.ranked[0]?.score).toBe(all.ranked.find(({ complexId }) => complexId === 'b')?.score);
    expect(some.leftOut).toMatchObject([{ complexId: 'a', unmet: { filter, found: 100 } }]);
  });

  it('read each field, and a factor by its name', () => {
    const [a] = rankTunnels({ ...drawRankInput(...tunnels), factors }).ranked;
    const expected = {
      misguidedPerDay: 150,
      misguidedPerDayWithDesign: 0,
      avoidedPerDay: 150,
      avoidedPerCost: 1.5,
      cost: 100,
      vehiclesPerDay: 1000,
      outageS: 60,
      score: 1.5,
    };
    expect(a?.complexId).toBe('a');
    for (const field of RANK_FIELDS) {
      const { leftOut } = rankTunnels({
        ...drawRankInput(...tunnels),
        factors,
        filters: [{ field, min: 1e9 }],
      });
      expect(leftOut[0]?.unmet.found).toBeCloseTo(expected[field], 9);
    }
    const by = (factor: string) =>
      order({ ...drawRankInput(...tunnels), factors, filters: [{ factor, min: 1.5 }] });
    expect(by('f')).toEqual(['b']);
    expect(by('unknown')).toEqual([]);
  });
});
