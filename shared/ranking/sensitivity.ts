import type { DecisionDrive } from '../drive/drive.ts';
import type { ComplexId } from '../network/network.ts';
import type { ApproachTraffic } from './misguided.ts';
import {
  byRank,
  listFigures,
  type RankInput,
  rankTunnels,
  type TunnelFigures,
  type TunnelInput,
  toFigures,
} from './rank.ts';

/** Assumed traffic may be off by half, either way. */
export const TRAFFIC_SCALES = [0.5, 1.5] as const;

/** Other drives of the same tunnels, such as those with half the speed spread; `name` is the caller's. */
export type DriveVariant = {
  readonly name: string;
  /** A tunnel that is absent here keeps its own. */
  readonly decisions: ReadonlyMap<ComplexId, readonly DecisionDrive[]>;
};

/** What was taken to be different. */
export type Supposition =
  | { readonly kind: 'traffic of one'; readonly complexId: ComplexId; readonly scale: number }
  | { readonly kind: 'assumed traffic'; readonly scale: number }
  | { readonly kind: 'drives'; readonly name: string };

/** A rank, and what brings the tunnel there; nothing where it stands there anyhow. */
export type Reached = { readonly rank: number; readonly by?: Supposition };

export type RankRange = {
  readonly complexId: ComplexId;
  readonly rank: number;
  readonly best: Reached;
  readonly worst: Reached;
};

/**
 * Between which ranks each tunnel lies where its assumed traffic is half or one and a half times as much (each tunnel
 * by itself, then all together), and with the drives of each variant: by rank. The filters leave out the same tunnels
 * throughout. The share of guided drivers is no supposition: it changes all figures alike. Of several suppositions that
 * reach a rank, the tunnel's own traffic is named, then the first.
 */
export function measureRankRanges(input: RankInput, variants: readonly DriveVariant[]): readonly RankRange[] {
  const { ranked } = rankTunnels(input);
  const kept = new Set(ranked.map(({ complexId }) => complexId));
  const ranges = new Map<ComplexId, RankRange>(
    ranked.map(({ complexId, rank }) => [complexId, { complexId, rank, best: { rank }, worst: { rank } }]),
  );
  const note = (order: readonly TunnelFigures[], by: Supposition) => {
    order.forEach(({ complexId }, i) => {
      const range = ranges.get(complexId);
      if (range !== undefined) ranges.set(complexId, widen(range, i + 1, by));
    });
  };

  for (const { by, tunnels } of listTogether(input, variants)) {
    const figures = listFigures({ ...input, tunnels });
    note(figures.filter(({ complexId }) => kept.has(complexId)).sort(byRank), by);
  }
  const tunnels = new Map(input.tunnels.map((tunnel) => [tunnel.complexId, tunnel]));
  for (const base of ranked) {
    const tunnel = tunnels.get(base.complexId);
    if (tunnel === undefined || !base.isTrafficAssumed) continue;
    for (const scale of TRAFFIC_SCALES) {
      const figures = toFigures(scaleAssumed(tunnel, scale), input.satnavShare, base.factors);
      const order = ranked.map((other) => (other === base ? figures : other)).sort(byRank);
      note(order, { kind: 'traffic of one', complexId: base.complexId, scale });
    }
  }
  return [...ranges.values()];
}

function listTogether(
  { tunnels }: RankInput,
  variants: readonly DriveVariant[],
): readonly { readonly by: Supposition; readonly tunnels: readonly TunnelInput[] }[] {
  return [
    ...TRAFFIC_SCALES.map((scale) => ({
      by: { kind: 'assumed traffic', scale } as const,
      tunnels: tunnels.map((tunnel) => scaleAssumed(tunnel, scale)),
    })),
    ...variants.map(({ name, decisions }) => ({
      by: { kind: 'drives', name } as const,
      tunnels: tunnels.map((tunnel) => ({
        ...tunnel,
        decisions: decisions.get(tunnel.complexId) ?? tunnel.decisions,
      })),
    })),
  ];
}

function scaleAssumed(tunnel: TunnelInput, by: number): TunnelInput {
  const scale = (traffic: ApproachTraffic) => ({
    ...traffic,
    vehiclesPerDay: traffic.vehiclesPerDay * (traffic.isAssumed ? by : 1),
  });
  return {
    ...tunnel,
    entering: scale(tunnel.entering),
    traffic: new Map([...tunnel.traffic].map(([linkId, approach]) => [linkId, scale(approach)] as const)),
  };
}

function widen(range: RankRange, rank: number, by: Supposition): RankRange {
  if (rank < range.rank && isBetter(range.best, rank, range.best.rank - rank, by, range.complexId)) {
    return { ...range, best: { rank, by } };
  }
  if (rank > range.rank && isBetter(range.worst, rank, rank - range.worst.rank, by, range.complexId)) {
    return { ...range, worst: { rank, by } };
  }
  return range;
}

/** Whether `rank` lies beyond the one reached, or the tunnel's own traffic brings it there as well. */
function isBetter(reached: Reached, rank: number, beyond: number, by: Supposition, own: ComplexId): boolean {
  if (beyond > 0) return true;
  return rank === reached.rank && by.kind === 'traffic of one' && by.complexId === own;
}
