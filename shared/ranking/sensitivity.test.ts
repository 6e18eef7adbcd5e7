import { describe, expect, it } from 'vitest';
import type { ComplexId } from '../network/network.ts';
import { drawDecision, drawRankInput, drawTunnelInput } from './rank.fixture.ts';
import { measureRankRanges } from './sensitivity.ts';

const id = (text: string) => text as ComplexId;

describe('measureRankRanges', () => {
  it('moves nobody where nothing is assumed', () => {
    const input = drawRankInput(drawTunnelInput('a', 1000, 0.5, 100), drawTunnelInput('b', 900, 0.5, 100));
    expect(measureRankRanges(input, [])).toEqual([
      { complexId: 'a', rank: 1, best: { rank: 1 }, worst: { rank: 1 } },
      { complexId: 'b', rank: 2, best: { rank: 2 }, worst: { rank: 2 } },
    ]);
  });

  it('names the traffic that moves a tunnel, its own before that of others', () => {
    // Ratios 1.5, 1.2 (assumed) and 0.7: b comes to 0.6 or 1.8.
    const input = drawRankInput(
      drawTunnelInput('a', 1000, 0.5, 100),
      drawTunnelInput('b', 800, 0.5, 100, true),
      drawTunnelInput('c', 467, 0.5, 100),
    );
    const ofB = (scale: number) => ({ kind: 'traffic of one', complexId: 'b', scale });
    expect(measureRankRanges(input, [])).toEqual([
      {
        complexId: 'a',
        rank: 1,
        best: { rank: 1 },
        worst: { rank: 2, by: { kind: 'assumed traffic', scale: 1.5 } },
      },
      { complexId: 'b', rank: 2, best: { rank: 1, by: ofB(1.5) }, worst: { rank: 3, by: ofB(0.5) } },
      {
        complexId: 'c',
        rank: 3,
        best: { rank: 2, by: { kind: 'assumed traffic', scale: 0.5 } },
        worst: { rank: 3 },
      },
    ]);
  });

  it('scales each alone as well as all together', () => {
    // Both assumed: together they keep their order, alone they swap.
    const input = drawRankInput(
      drawTunnelInput('a', 1000, 0.5, 100, true),
      drawTunnelInput('b', 900, 0.5, 100, true),
    );
    const [a, b] = measureRankRanges(input, []);
    expect(a?.worst).toEqual({ rank: 2, by: { kind: 'traffic of one', complexId: 'a', scale: 0.5 } });
    expect(b?.best).toEqual({ rank: 1, by: { kind: 'traffic of one', complexId: 'b', scale: 1.5 } });
  });

  it('takes the drives of a variant, and the tunnel’s own where it has none', () => {
    const input = drawRankInput(drawTunnelInput('a', 1000, 0.5, 100), drawTunnelInput('b', 900, 0.5, 100));
    const decisions = new Map([[id('b'), [drawDecision(1, 'a', 'r', [0.9, 0], [0, 0])]]]);
    const [a, b] = measureRankRanges(input, [{ name: 'spread × 1.5', decisions }]);
    const by = { kind: 'drives', name: 'spread × 1.5' };
    expect(a).toMatchObject({ best: { rank: 1 }, worst: { rank: 2, by } });
    expect(b).toMatchObject({ best: { rank: 1, by }, worst: { rank: 2 } });
  });

  it('leaves out what the filters leave out, whatever is supposed', () => {
    const filters = [{ field: 'avoidedPerDay', min: 130 } as const];
    const input = drawRankInput(
      drawTunnelInput('a', 1000, 0.5, 100),
      drawTunnelInput('b', 800, 0.5, 100, true),
    );
    expect(measureRankRanges({ ...input, filters }, [])).toEqual([
      { complexId: 'a', rank: 1, best: { rank: 1 }, worst: { rank: 1 } },
    ]);
  });

  it('orders tunnels without decision points by assumed traffic too', () => {
    const none = (name: string, vehiclesPerDay: number, isAssumed: boolean) => ({
      ...drawTunnelInput(name, vehiclesPerDay, 0, 100, isAssumed),
      decisions: [],
    });
    const [, b] = measureRankRanges(drawRankInput(none('a', 1000, false), none('b', 800, true)), []);
    expect(b?.best).toEqual({ rank: 1, by: { kind: 'traffic of one', complexId: 'b', scale: 1.5 } });
  });
});
