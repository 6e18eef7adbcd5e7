import { done, type Result, refused } from '../outcome/result.ts';
import { prepareRow, type Row } from './detect-pass.ts';
import { checkQuestion, type SpacingQuestion } from './spacing-question.ts';
import { timeInRangeS } from './time-in-range.ts';

/** What keeps the spacing from being greater; `longest`: the end of what a spacing may be. */
export type SpacingLimit = 'error' | 'coverage' | 'certainty' | 'longest';

/** The answer for beacons of which one among `redundancy` in a row has to be heard. */
export type SpacingRow = {
  readonly redundancy: number;
  /** Greatest spacing for the wanted error; Infinity where every car keeps the assumed speed. */
  readonly byErrorM: number;
  /** Greatest spacing for the coverage depth. */
  readonly byCoverageM: number;
  /** Whole metres; absent where no spacing serves, and `binds` says why. */
  readonly spacingM?: number;
  readonly binds: SpacingLimit;
  /**
   * That one of the row is heard at that spacing, the least over the speeds; where no spacing serves, what none exceeds.
   * Absent where the other limits leave no spacing to try.
   */
  readonly chance?: number;
};

export type SpacingAdvice = {
  /** For 1, 2, 3 and 4 beacons in a row. */
  readonly rows: readonly SpacingRow[];
  /**
   * The fewest beacons: the greatest spacing, and where several have it the greatest redundancy, which costs no more.
   * Never redundancy 1: no design keeps that, since any beacon that fails doubles a gap.
   */
  readonly recommended?: SpacingRow;
  /** The speeds that the chance was taken at. */
  readonly speedsMps: readonly number[];
};

const SHORTEST_SPACING_M = 5;
const LONGEST_SPACING_M = 500;
const REDUNDANCIES = [1, 2, 3, 4];
/** Speeds between the fastest and the slowest car: the beat of beacons and scan windows differs with the speed. */
const SPEEDS = 5;
/** What is less is rounding, metres. */
const SLACK_M = 1e-9;

/**
 * The greatest spacing in whole metres for each redundancy n of 1 to 4, such that
 * - n spacings driven at the wrong speed are at most the wanted error: s ≤ error / (n · discrepancy);
 * - as many beacons as wanted are heard everywhere (`spacingByCoverageM`);
 * - of n beacons in a row at least one is heard with the wanted certainty, at each of five speeds from the assumed one
 *   down to the slowest: integral over the scan's phase, each beacon failed on its own, others in range collide.
 * Only the way since the last beacon counts as error, not the fix's own. Refuses values out of range (`rule-invalid`).
 */
export function adviseSpacing(question: SpacingQuestion): Result<SpacingAdvice> {
  const bad = checkQuestion(question);
  if (bad !== undefined) return refused(bad);
  const speedsMps = listSpeeds(question);
  const chances = makeChances(question, speedsMps);
  if (!chances.ok) return chances;
  const rows = REDUNDANCIES.map((redundancy) => advise(question, redundancy, chances.value));
  const recommended = rows.reduce<SpacingRow | undefined>(
    (best, row) => (row.redundancy > 1 && (row.spacingM ?? 0) >= (best?.spacingM ?? 1) ? row : best),
    undefined,
  );
  return done({ rows, speedsMps, ...(recommended === undefined ? {} : { recommended }) });
}

/** The error in metres after `distanceM` since the last fix: distance × (assumed / true speed − 1). */
export function driftM(distanceM: number, speedDiscrepancy: number): number {
  return distanceM * speedDiscrepancy;
}

/**
 * The greatest spacing, metres, with which `depth` beacons are heard everywhere: 2 · radius / depth between beacons, and
 * (radius − offset) / (depth − 1) at a portal, which has beacons on one side only.
 */
export function spacingByCoverageM(radiusM: number, depth: number, portalOffsetM: number): number {
  const withinM = (2 * radiusM) / depth;
  return depth === 1 ? withinM : Math.min(withinM, Math.max(0, radiusM - portalOffsetM) / (depth - 1));
}

/** The least chance over the speeds that one of a row is heard, with as many others in range as `crowdM` of spacing gives. */
type Chance = (redundancy: number, spacingM: number, crowdM: number) => number;

function advise(question: SpacingQuestion, redundancy: number, chanceAt: Chance): SpacingRow {
  const { wantedErrorM, speedDiscrepancy, radiusM, coverageDepth, portalOffsetM, certainty } = question;
  const byErrorM =
    speedDiscrepancy === 0 ? Number.POSITIVE_INFINITY : wantedErrorM / driftM(redundancy, speedDiscrepancy);
  const byCoverageM = spacingByCoverageM(radiusM, coverageDepth, portalOffsetM);
  const limits = { redundancy, byErrorM, byCoverageM };
  const limitM = Math.min(byErrorM, byCoverageM, LONGEST_SPACING_M);
  const binds = limitM === byErrorM ? 'error' : limitM === byCoverageM ? 'coverage' : 'longest';
  const greatestM = Math.floor(limitM + SLACK_M);
  if (greatestM < SHORTEST_SPACING_M) return { ...limits, binds };
  let mostChance = 0;
  for (let spacingM = greatestM; spacingM >= SHORTEST_SPACING_M; spacingM--) {
    // Closer together more of them collide: what does not do with the fewest in range does not do with more.
    const most = chanceAt(redundancy, spacingM, greatestM);
    mostChance = Math.max(mostChance, most);
    if (most < certainty) continue;
    const chance = chanceAt(redundancy, spacingM, spacingM);
    if (chance < certainty) continue;
    return { ...limits, spacingM, binds: spacingM === greatestM ? binds : 'certainty', chance };
  }
  return { ...limits, binds: 'certainty', chance: mostChance };
}

/** From the assumed speed down to that of the slowest car. */
function listSpeeds({ speedMps, speedDiscrepancy }: SpacingQuestion): readonly number[] {
  if (speedDiscrepancy === 0) return [speedMps];
  const slowestMps = speedMps / (1 + speedDiscrepancy);
  return Array.from({ length: SPEEDS }, (_, i) => speedMps - ((speedMps - slowestMps) * i) / (SPEEDS - 1));
}

/** The least chance over the speeds; what one count of beacons in range gives is computed once. */
function makeChances(question: SpacingQuestion, speedsMps: readonly number[]): Result<Chance> {
  const { beacon, receiver, radiusM, failureShare } = question;
  const prepare = (speedMps: number, otherBeacons: number) =>
    prepareRow({ beacon, receiver, otherBeacons, timeInRangeS: timeInRangeS(radiusM, 0, speedMps) });
  // The count of others is in range for every spacing, so that nothing is refused later.
  const first = prepare(speedsMps[0] as number, 0);
  if (!first.ok) return first;
  const known = new Map<number, readonly ((row: Required<Row>) => number)[]>();
  const rowsFor = (otherBeacons: number) => {
    const rows =
      known.get(otherBeacons) ?? speedsMps.map((speedMps) => unwrap(prepare(speedMps, otherBeacons)));
    known.set(otherBeacons, rows);
    return rows;
  };
  return done((beacons, spacingM, crowdM) => {
    const rows = rowsFor(Math.floor((2 * radiusM) / crowdM));
    return rows.reduce((least, detectRow, i) => {
      const apartS = spacingM / (speedsMps[i] as number);
      return Math.min(least, detectRow({ beacons, apartS, failureShare }));
    }, 1);
  });
}

function unwrap<Value>(result: Result<Value>): Value {
  if (!result.ok) throw new Error(`a pass is refused at one speed only: ${result.refusal.code}`);
  return result.value;
}
