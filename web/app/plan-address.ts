import { PROGRAMME_FIELDS } from '../../shared/ranking/programme.ts';

/** What a programme may spend, as an address tells it. */
export type PlanLimits = {
  readonly years: number;
  readonly budgetPerYear: number;
  readonly nightsPerYear: number;
};

const NAMES = ['years', 'budgetPerYear', 'nightsPerYear'] as const;

/** Reads `years/budget/nights`; undefined where one of them is missing or may not be. */
export function readPlan(text: string | null): PlanLimits | undefined {
  const parts = (text ?? '').split('/');
  if (parts.length !== NAMES.length || !parts.every((part) => /^\d+(\.\d+)?$/.test(part))) return undefined;
  const [years, budgetPerYear, nightsPerYear] = parts.map(Number) as [number, number, number];
  const plan = { years, budgetPerYear, nightsPerYear };
  const isSound = NAMES.every((name) => {
    const { min, max } = PROGRAMME_FIELDS[name];
    const isWhole = name === 'budgetPerYear' || Number.isInteger(plan[name]);
    return plan[name] >= min && plan[name] <= max && isWhole;
  });
  return isSound ? plan : undefined;
}

/** Writes what `readPlan` reads. */
export function writePlan(plan: PlanLimits): string {
  return NAMES.map((name) => plan[name]).join('/');
}
