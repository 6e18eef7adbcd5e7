import type { LinkId } from '../network/network.ts';

/** One figure for many drives: 5, 50 and 95 % of them lie at or below. */
export type Percentiles = { readonly p5: number; readonly p50: number; readonly p95: number };

/** Position errors along a route, one value for each place of `atM`; metres, positive where the estimate runs ahead. */
export type ErrorBand = {
  readonly p5: readonly number[];
  readonly p50: readonly number[];
  readonly p95: readonly number[];
};

/** Something without any beacon, and with those of the design. */
export type Both<T> = { readonly without: T; readonly with: T };

/** The position error along one route. */
export type RouteDrive = {
  readonly routeId: string;
  readonly lengthM: number;
  /** Metres from the entry portal, ascending, the first 0 and the last `lengthM`. */
  readonly atM: readonly number[];
  readonly errorM: Both<ErrorBand>;
};

/** Shares of the drives whose guidance fails, 0 to 1. */
export type Failures = { readonly late: number; readonly early: number };

/** One decision point as it is met on one route, with the working of its failures. */
export type DecisionDrive = {
  readonly osmNode: number;
  readonly where: 'underground' | 'after portal';
  readonly routeId: string;
  /** The link by which it is approached, or the last one before the portal. */
  readonly linkId: LinkId;
  /** Driving distance from the entry portal, metres; past the exit portal it runs on in the open air. */
  readonly atM: number;
  /** The share of those who drive the route who come by: 1 underground, less past a choice in the open air. */
  readonly reachShare: number;
  readonly speedMps: number;
  readonly sightM: number;
  /** How far before the point the instruction is given. */
  readonly announceM: number;
  /** The estimate may lag by this before the instruction comes too late. */
  readonly lateLimitM: number;
  /** The estimate may lead by this before it is past the point, or at an exit before it, too early. */
  readonly earlyLimitM: number;
  readonly failures: Both<Failures>;
  /**
   * The share of those who come by that are misguided here and were not before, so that every driver counts once:
   * along the route each drive counts until the shares that it is misguided at, times those that come by, make one.
   */
  readonly misguidedShare: Both<number>;
  /** Error of the position where the instruction is due, metres. */
  readonly errorM: Both<Percentiles>;
};

/** How long a driver who takes a branch that the route does not take is shown on the other one, metres past the fork. */
export type BranchConfusion = {
  readonly osmNode: number;
  readonly linkId: LinkId;
  readonly confusedM: Both<Percentiles>;
  /** Share of the drives that the first beacon heard past the fork puts on a sister branch. */
  readonly wrongShare: Both<number>;
};

/** What many simulated drives of one complex come to. The same seed gives the same bytes. */
export type Drive = {
  readonly seed: number;
  /** How many for each route. */
  readonly drives: number;
  /** How many legal ways through were not driven, because all that matters is met on the others. */
  readonly routesLeftOut: number;
  readonly routes: readonly RouteDrive[];
  readonly decisions: readonly DecisionDrive[];
  readonly branches: readonly BranchConfusion[];
};
