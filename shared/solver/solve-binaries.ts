import type { Highs, Model } from 'highs';

export type BinaryLimits = {
  /** The binary variables whose values are wanted. */
  readonly names: readonly string[];
  /** Those that are 1 in a choice that is known to keep every row; the solver begins with it. */
  readonly start?: ReadonlySet<string>;
  readonly timeLimitS: number;
  /** How far a value may be from 0 or 1, or a row from its limit; the solver's own (1e-6) where absent. */
  readonly tolerance?: number;
};

export type BinaryAnswer = {
  /** The best choice that was found: the names that are 1; absent where none was. */
  readonly chosen?: ReadonlySet<string>;
  /** No choice has a better objective than this; not finite where nothing is known. */
  readonly bound: number;
  /** It was proven that no choice keeps every row. */
  readonly isInfeasible: boolean;
  /** What the solver took. */
  readonly seconds: number;
};

/**
 * Solves an integer programme in CPLEX LP text to the end, or until `timeLimitS`. The same text gives the same answer
 * unless time runs out. Blocks while it solves.
 */
export function solveBinaries(highs: Highs, lp: string, limits: BinaryLimits): BinaryAnswer {
  const { names, start, timeLimitS, tolerance } = limits;
  const model = highs.createModel({ format: 'lp', data: lp });
  try {
    model.options.set({ output_flag: false, time_limit: timeLimitS, mip_rel_gap: 0, random_seed: 0 });
    if (tolerance !== undefined) model.options.set({ mip_feasibility_tolerance: tolerance });
    const columns = names.map((name) => model.getColByName(name));
    if (start !== undefined) {
      model.setSolution({ indices: columns, values: names.map((name) => (start.has(name) ? 1 : 0)) });
    }
    model.run();
    const chosen = findChosen(highs, model, names, columns);
    return {
      ...(chosen === undefined ? {} : { chosen }),
      bound: Number(model.info.get('mip_dual_bound')),
      isInfeasible: model.getModelStatus() === highs.constants.modelStatus.infeasible,
      seconds: model.getRunTime(),
    };
  } finally {
    model.dispose();
  }
}

function findChosen(highs: Highs, model: Model, names: readonly string[], columns: readonly number[]) {
  if (Number(model.info.get('primal_solution_status')) !== highs.constants.solutionStatus.feasible) {
    return undefined;
  }
  const values = model.getSolution().colValue;
  return new Set(names.filter((_, i) => (values[columns[i] ?? -1] ?? 0) > 0.5));
}
