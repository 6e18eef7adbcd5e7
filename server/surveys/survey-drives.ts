import { setImmediate as nextTurn } from 'node:timers/promises';
import type { DecisionDrive } from '../../shared/drive/drive.ts';
import { driveComplex } from '../../shared/pipeline/rank-survey.ts';
import type { Designed } from '../../shared/pipeline/to-survey-layers.ts';
import type { Design } from '../../shared/placement/design.ts';

/** Another assumption that tunnels are driven with; `name` tells it from others. */
export type DriveCase = {
  readonly name: string;
  readonly change: (rules: Design['rules']) => Design['rules'];
};

/** Drives tunnels as their designs stand, or with other rules, and keeps what they came to. */
export type Drives = {
  drive<D extends Designed>(
    designed: readonly D[],
    other?: DriveCase,
  ): Promise<readonly (D & { readonly failures: readonly DecisionDrive[] })[]>;
};

/** Between two of them other requests are answered. */
const TURN_MS = 15;

/** The failures of a design are kept as long as the design is. */
export function createDrives(): Drives {
  const kept = new WeakMap<Design, Map<string, readonly DecisionDrive[]>>();

  const driveOne = ({ network, design }: Designed, other: DriveCase | undefined) => {
    const ofDesign = kept.get(design) ?? new Map<string, readonly DecisionDrive[]>();
    kept.set(design, ofDesign);
    const key = other?.name ?? '';
    const before = ofDesign.get(key);
    if (before !== undefined) return before;
    const rules = other === undefined ? design.rules : other.change(design.rules);
    const failures = driveComplex(network, { ...design, rules });
    ofDesign.set(key, failures);
    return failures;
  };

  return {
    async drive(designed, other) {
      const driven: ((typeof designed)[number] & { readonly failures: readonly DecisionDrive[] })[] = [];
      let since = performance.now();
      for (const one of designed) {
        driven.push({ ...one, failures: driveOne(one, other) });
        if (performance.now() - since < TURN_MS) continue;
        await nextTurn();
        since = performance.now();
      }
      return driven;
    },
  };
}
