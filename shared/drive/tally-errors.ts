import type { Course } from './build-course.ts';
import type { Fixes } from './draw-fixes.ts';
import { driftAtM, findPart, type Motion } from './draw-motion.ts';
import type { Both, ErrorBand, RouteDrive } from './drive.ts';
import { takePercentiles } from './percentiles.ts';

/** A curve has no more places than this, and none closer together than the least step. */
const MOST_PLACES = 160;
const LEAST_STEP_M = 5;

/** Gathers the errors along a route, drive by drive. */
export type ErrorTally = {
  readonly note: (drive: number, motion: Motion, fixes: Both<Fixes>) => void;
  readonly sum: () => RouteDrive;
};

/** Errors of all drives, by place: room that is used again for the next route. */
export type ErrorRoom = Both<readonly Float64Array[]>;

/** Makes room for the errors of so many drives on any route. */
export function makeErrorRoom(drives: number): ErrorRoom {
  const room = () => Array.from({ length: MOST_PLACES }, () => new Float64Array(drives));
  return { without: room(), with: room() };
}

/** Tallies the error at up to 160 places of a route, evenly spread over it. */
export function tallyErrors({ routeId, lengthM }: Course, errors: ErrorRoom): ErrorTally {
  const steps = Math.max(1, Math.min(MOST_PLACES - 1, Math.ceil(lengthM / LEAST_STEP_M)));
  const atM = Array.from({ length: steps + 1 }, (_, i) => (i === steps ? lengthM : (i * lengthM) / steps));
  return {
    note: (drive, motion, fixes) => {
      let [part, fix] = [0, 0];
      const offsetM = fixes.without.offsetM[0] as number;
      for (let i = 0; i < atM.length; i += 1) {
        const placeM = atM[i] as number;
        part = findPart(motion, placeM, part);
        while (fix + 1 < fixes.with.count && (fixes.with.shownM[fix + 1] as number) <= placeM) fix += 1;
        const driftM = driftAtM(motion, placeM, part);
        (errors.without[i] as Float64Array)[drive] = offsetM + driftM;
        (errors.with[i] as Float64Array)[drive] = (fixes.with.offsetM[fix] as number) + driftM;
      }
    },
    sum: () => ({
      routeId,
      lengthM,
      atM,
      errorM: { without: toBand(errors.without, atM.length), with: toBand(errors.with, atM.length) },
    }),
  };
}

function toBand(errors: readonly Float64Array[], places: number): ErrorBand {
  const found = errors.slice(0, places).map(takePercentiles);
  return {
    p5: found.map(({ p5 }) => p5),
    p50: found.map(({ p50 }) => p50),
    p95: found.map(({ p95 }) => p95),
  };
}
