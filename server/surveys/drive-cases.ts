import type { Design } from '../../shared/placement/design.ts';
import { DRIVE_VARIANTS } from '../../shared/wire/ranking.ts';

export type DriveCaseName = (typeof DRIVE_VARIANTS)[number];

/** Another assumption that tunnels are driven with. */
export type DriveCase = {
  readonly name: DriveCaseName;
  readonly change: (rules: Design['rules']) => Design['rules'];
};

const scaleSpread =
  (by: number): DriveCase['change'] =>
  (rules) => ({ ...rules, speedSpreadShare: rules.speedSpreadShare * by });

/** The cases that a ranking is tried with, in the order of DRIVE_VARIANTS. */
export const DRIVE_CASES: readonly DriveCase[] = DRIVE_VARIANTS.map((name, i) => ({
  name,
  change: scaleSpread([0.5, 1.5][i] ?? 1),
}));

/** The rules that a case drives with; a design's own without one. */
export function toCaseRules(rules: Design['rules'], name: DriveCaseName | undefined): Design['rules'] {
  return DRIVE_CASES.find((one) => one.name === name)?.change(rules) ?? rules;
}
