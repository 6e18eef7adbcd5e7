import type { DecisionDrive } from '../drive/drive.ts';
import type { ComplexId, LinkId } from '../network/network.ts';
import type { RankInput, TunnelInput } from './rank.ts';

const NO_ERROR = { p5: 0, p50: 0, p95: 0 };

/** A decision point as one route meets it, which fails for shares of the drives: [late, early]. */
export function drawDecision(
  osmNode: number,
  linkId: string,
  routeId: string,
  without: readonly [number, number],
  withDesign: readonly [number, number],
): DecisionDrive {
  return {
    osmNode,
    where: 'underground',
    routeId,
    linkId: linkId as LinkId,
    atM: 1000,
    reachShare: 1,
    speedMps: 20,
    sightM: 200,
    announceM: 300,
    lateLimitM: 100,
    earlyLimitM: 100,
    failures: {
      without: { late: without[0], early: without[1] },
      with: { late: withDesign[0], early: withDesign[1] },
    },
    misguidedShare: {
      without: Math.min(1, without[0] + without[1]),
      with: Math.min(1, withDesign[0] + withDesign[1]),
    },
    errorM: { without: NO_ERROR, with: NO_ERROR },
  };
}

/** A tunnel with one decision point, at which `share` of the drives fail without the design and none with it. */
export function drawTunnelInput(
  id: string,
  vehiclesPerDay: number,
  share: number,
  cost: number,
  isAssumed = false,
): TunnelInput {
  const traffic = { vehiclesPerDay, isAssumed };
  return {
    complexId: id as ComplexId,
    decisions: [drawDecision(1, 'a', 'r', [share, 0], [0, 0])],
    traffic: new Map([['a' as LinkId, traffic]]),
    entering: traffic,
    outageS: 60,
    cost,
  };
}

/** All of them, with three in ten drivers guided, without factors and filters. */
export function drawRankInput(...tunnels: readonly TunnelInput[]): RankInput {
  return { tunnels, satnavShare: 0.3, factors: [], filters: [] };
}
