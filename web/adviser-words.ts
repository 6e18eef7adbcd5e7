import type { SpacingLimit } from '../shared/radio/advise-spacing.ts';

/** What is said about the spacing that is advised. */
export const adviserWords = {
  adviser: {
    title: 'Spacing adviser',
    units: { speed: 'km/h', discrepancy: '%', error: 'm', certainty: '%' },
    caption: 'Greatest spacing, where one of so many beacons in a row has to be heard',
    redundancy: 'In a row',
    byError: 'Error',
    byCoverage: 'Coverage',
    chance: 'Heard',
    spacing: 'Spacing',
    perKm: 'Per km',
    metres: (text: string) => `${text} m`,
    noLimit: 'no limit',
    atMost: (text: string) => `≤ ${text}`,
    cannot: 'cannot',
    binds: {
      error: 'by error',
      coverage: 'by coverage',
      certainty: 'by certainty',
      longest: 'longest there is',
    } satisfies Record<SpacingLimit, string>,
    use: (spacingM: number, redundancy: number) => `Use ${spacingM} m, redundancy ${redundancy}`,
    inUse: (spacingM: number, redundancy: number) => `${spacingM} m, redundancy ${redundancy}: in use.`,
    useNote: 'Two edits: undo takes them back one by one.',
    none: 'No spacing of 5 to 500 m serves with redundancy 2 to 4.',
    why: 'The fewest beacons; of equal spacings the greatest redundancy, which costs no more. Redundancy 1 is not advised: any beacon that fails breaks it.',
    working: (speeds: string, radiusM: string, depth: number, failed: string) =>
      `Error: in a row × spacing × discrepancy, without the fix’s own. Coverage: ${depth} or more heard everywhere, each for ${radiusM} m to both sides. Heard: at least one of the row, ${failed} of all failed; the least of five speeds, ${speeds} km/h.`,
  },
};
