import type { DecisionDrive } from '../drive/drive.ts';
import type { ComplexId, LinkId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import { type ApproachTraffic, countMisguided, type Misguided } from './misguided.ts';
import { findUnmet, type RankFilter, type UnmetFilter } from './rank-filter.ts';
import { makeMultipliers, type RankFactor, type ScoreFactor } from './rank-score.ts';

/** What is known of one tunnel before it is ranked. */
export type TunnelInput = {
  readonly complexId: ComplexId;
  readonly decisions: readonly DecisionDrive[];
  /** By link; at least for each approach of `decisions`. */
  readonly traffic: ReadonlyMap<LinkId, ApproachTraffic>;
  /** What enters the tunnel, in all directions together. */
  readonly entering: ApproachTraffic;
  /** The longest drive without satellite positioning, seconds. */
  readonly outageS: number;
  /** What mounting the design costs, units of money; 0 where nothing is to be mounted. */
  readonly cost: number;
};

export type RankInput = {
  readonly tunnels: readonly TunnelInput[];
  /** Share of the drivers who are guided, 0 to 1. */
  readonly satnavShare: number;
  /** The user's own columns, whose names differ. */
  readonly factors: readonly RankFactor[];
  readonly filters: readonly RankFilter[];
};

/** The figures of one tunnel, with their working. */
export type TunnelFigures = {
  readonly complexId: ComplexId;
  readonly misguided: Misguided;
  /** Misguided drivers of a day without the design, less those with it; negative where the design makes it worse. */
  readonly avoidedPerDay: number;
  readonly cost: number;
  /** `avoidedPerDay / cost`; 0 where nothing is to be mounted. */
  readonly avoidedPerCost: number;
  /** Vehicles that enter the tunnel in a day, in all directions together. */
  readonly vehiclesPerDay: number;
  readonly outageS: number;
  /** Some of the traffic that the tunnel is ranked by is assumed. */
  readonly isTrafficAssumed: boolean;
  readonly factors: readonly ScoreFactor[];
  /** `avoidedPerCost` times the multipliers of `factors`. */
  readonly score: number;
};

/** `rank` from 1. */
export type RankedTunnel = TunnelFigures & { readonly rank: number };

export type Ranking = {
  /** By rank. */
  readonly ranked: readonly RankedTunnel[];
  /** By id, each with the first filter that it does not meet. */
  readonly leftOut: readonly (TunnelFigures & { readonly unmet: UnmetFilter })[];
};

/**
 * Orders tunnels by score: the misguided drivers of a day that each unit of money avoids, times the multipliers of the
 * user's factors. Tunnels without decision points misguide nobody and come last, those with the longest outage times
 * traffic first; the same product, then the id, settles ties. Filters leave tunnels out and change no score. Throws
 * where an approach has no traffic.
 */
export function rankTunnels(input: RankInput): Ranking {
  const all = listFigures(input).map((figures) => ({ figures, unmet: findUnmet(figures, input.filters) }));
  return {
    ranked: all
      .flatMap(({ figures, unmet }) => (unmet === undefined ? [figures] : []))
      .sort(byRank)
      .map((figures, i) => ({ ...figures, rank: i + 1 })),
    leftOut: all
      .flatMap(({ figures, unmet }) => (unmet === undefined ? [] : [{ ...figures, unmet }]))
      .sort((a, b) => byText(a.complexId, b.complexId)),
  };
}

/** The figures of each tunnel, in the order given; throws where an approach has no traffic. */
export function listFigures({ tunnels, satnavShare, factors }: RankInput): readonly TunnelFigures[] {
  const multipliersOf = makeMultipliers(
    tunnels.map(({ complexId }) => complexId),
    factors,
  );
  return tunnels.map((tunnel) => toFigures(tunnel, satnavShare, multipliersOf(tunnel.complexId)));
}

/** The figures of one tunnel, from the multipliers of its factors. */
export function toFigures(
  { complexId, decisions, traffic, entering, outageS, cost }: TunnelInput,
  satnavShare: number,
  factors: readonly ScoreFactor[],
): TunnelFigures {
  const misguided = countMisguided(decisions, traffic, satnavShare);
  const avoidedPerDay = misguided.perDay.without - misguided.perDay.with;
  const avoidedPerCost = cost > 0 ? avoidedPerDay / cost : 0;
  return {
    complexId,
    misguided,
    avoidedPerDay,
    cost,
    avoidedPerCost,
    vehiclesPerDay: entering.vehiclesPerDay,
    outageS,
    isTrafficAssumed:
      misguided.terms.length === 0
        ? entering.isAssumed
        : misguided.terms.some((term) => term.isTrafficAssumed),
    factors,
    // No wish makes a design that misguides more drivers better or worse than it is.
    score: avoidedPerCost <= 0 ? avoidedPerCost : factors.reduce((s, f) => s * f.multiplier, avoidedPerCost),
  };
}

/** Compares two tunnels for `sort`: the one to equip first comes first. */
export function byRank(a: TunnelFigures, b: TunnelFigures): number {
  return (
    Number(hasNone(a)) - Number(hasNone(b)) ||
    b.score - a.score ||
    b.outageS * b.vehiclesPerDay - a.outageS * a.vehiclesPerDay ||
    byText(a.complexId, b.complexId)
  );
}

function hasNone({ misguided }: TunnelFigures): boolean {
  return misguided.terms.length === 0;
}
