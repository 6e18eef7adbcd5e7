import type { RowKind } from '../shared/placement/fewest/question.ts';

const beacons = (count: number) => `${count} ${count === 1 ? 'beacon' : 'beacons'}`;

/** What is said about the method `fewest`. */
export const fewestWords = {
  title: 'Fewest beacons',
  swept: (count: number) => `${beacons(count)} found at once; not proven to be the fewest.`,
  proven: (count: number) =>
    `${beacons(count)}: proven fewest. No fewer keep the spacing, the coverage and the beacons at portals, decisions and branches.`,
  bounded: (count: number, bound: number) => `${beacons(count)}; at least ${bound} needed.`,
  prove: 'Prove the fewest',
  longer: 'Look again',
  running: (seconds: number) => `Looking for the fewest… ${seconds} s`,
  cancel: 'Cancel',
  foundProven: (count: number) => `${beacons(count)}, proven`,
  foundBounded: (count: number, bound: number) => `${beacons(count)}, at least ${bound}`,
  use: (count: number) => `Use these ${count}`,
  failed: (reason: string) => `The solver failed: ${reason}`,
  gaps: (count: number) =>
    count === 1 ? 'At 1 place a rule cannot be kept:' : `At ${count} places a rule cannot be kept:`,
  gap: {
    gap: (place: string) => `past ${place} there is no free place within the spacing`,
    coverage: (place: string, found: number, need: number) =>
      `at ${place} only ${found} of ${need} beacons can be heard`,
    decision: (place: string, found: number, need: number) =>
      `before the decision at ${place} only ${found} of ${need} beacons can stand in sight`,
    branch: (place: string) => `on the branch at ${place} there is no free place to confirm it`,
  } satisfies Record<RowKind, (place: string, found: number, need: number) => string>,
};
