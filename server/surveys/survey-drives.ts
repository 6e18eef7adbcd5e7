import type { DecisionDrive } from '../../shared/drive/drive.ts';
import { driveComplex } from '../../shared/pipeline/rank-survey.ts';
import type { Designed } from '../../shared/pipeline/to-survey-layers.ts';
import type { Design } from '../../shared/placement/design.ts';
import { takeTurns } from '../take-turns.ts';
import type { DriveCase } from './drive-cases.ts';
import type { DriveMany } from './drive-many.ts';

/** Drives tunnels as their designs stand, or with other rules, and keeps what they came to. */
export type Drives = {
  drive<D extends Designed>(
    surveyId: string,
    designed: readonly D[],
    other?: DriveCase,
  ): Promise<readonly (D & { readonly failures: readonly DecisionDrive[] })[]>;
};

/** So many are driven here; more are a job. */
const FEW = 40;

/**
 * The failures of a design are kept as long as the design is.
 *
 * @param driveMany has many driven elsewhere; without it all are driven here.
 */
export function createDrives(driveMany?: DriveMany): Drives {
  const kept = new WeakMap<Design, Map<string, readonly DecisionDrive[]>>();

  const keptOf = ({ design }: Designed) => {
    const found = kept.get(design) ?? new Map<string, readonly DecisionDrive[]>();
    kept.set(design, found);
    return found;
  };

  const driveOne = ({ network, design }: Designed, other: DriveCase | undefined) => {
    const rules = other === undefined ? design.rules : other.change(design.rules);
    return driveComplex(network, { ...design, rules });
  };

  return {
    async drive(surveyId, designed, other) {
      const key = other?.name ?? '';
      const missing = designed.filter((one) => !keptOf(one).has(key));
      if (driveMany !== undefined && missing.length > FEW) {
        const failures = await driveMany(surveyId, missing, other?.name);
        for (const one of missing) {
          const found = failures.get(one.network.complex.id);
          if (found !== undefined) keptOf(one).set(key, found);
        }
      }
      const driven: ((typeof designed)[number] & { readonly failures: readonly DecisionDrive[] })[] = [];
      const turn = takeTurns();
      for (const one of designed) {
        const failures = keptOf(one).get(key) ?? driveOne(one, other);
        keptOf(one).set(key, failures);
        driven.push({ ...one, failures });
        await turn();
      }
      return driven;
    },
  };
}
