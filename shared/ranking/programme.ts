import type { Highs } from 'highs';
import profile from '../../data/profiles/costs.json';
import { type Refusal, refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import type { NumberSpec } from '../placement/rules.ts';
import { planByRatio } from './programme-greedy.ts';
import {
  type Assignment,
  type ProgrammeInput,
  type ProgrammeModel,
  toMoney,
  toProgrammeModel,
  toUnits,
  worthOf,
} from './programme-model.ts';
import { type Plan, toPlan } from './programme-plan.ts';
import { findNextBudget, type ProgrammeAnswer, type Solver, solveProgramme } from './programme-solve.ts';

type ProgrammeField = keyof typeof profile.programme;

/** Range, default and meaning of what a programme may spend. */
export const PROGRAMME_FIELDS: Readonly<Record<ProgrammeField, NumberSpec>> = profile.programme;

/** Budgets along the curve, with the one that was asked for. */
const CURVE_POINTS = 12;

/** What more money would buy: the least budget for each year with which more drivers are spared. */
export type NextStep =
  | {
      readonly kind: 'step';
      readonly budgetPerYear: number;
      readonly extraPerYear: number;
      readonly plan: Plan;
      readonly moreAvoidedDrivers: number;
      /** No smaller budget is enough, and none of this size does more. */
      readonly isProven: boolean;
    }
  /** Everything that helps is done in the first year; or more money does not help because nights are lacking. */
  | { readonly kind: 'all done' | 'nights lacking' }
  /** Time ran out. */
  | { readonly kind: 'unknown' };

export type CurvePoint = {
  readonly budgetPerYear: number;
  readonly cost: number;
  readonly tunnelCount: number;
  readonly avoidedDrivers: number;
  readonly isProven: boolean;
};

export type Programme = {
  readonly best: Plan;
  /** The simple order beside it, by gain for each unit of money. */
  readonly byRatio: Plan;
  /** No programme within these limits spares more drivers. */
  readonly boundDrivers: number;
  readonly isProven: boolean;
  readonly next: NextStep;
  /** From a budget of nothing to one that pays for everything in the first year; never falls. */
  readonly curve: readonly CurvePoint[];
};

/** The refusal `rule-invalid` for the first limit that may not be; undefined where all may. */
export function checkProgramme(input: ProgrammeInput): Refusal | undefined {
  for (const name of Object.keys(PROGRAMME_FIELDS) as ProgrammeField[]) {
    const { label, max, unit, ...field } = PROGRAMME_FIELDS[name];
    // Fewer crews than one bore takes can close none.
    const min = name === 'crews' ? Math.max(field.min, input.crewsPerNight) : field.min;
    const value = input[name];
    const isWhole = name === 'budgetPerYear' || Number.isInteger(value);
    if (!(value >= min && value <= max && isWhole)) {
      return refusal('rule-invalid', { rule: label, min, max, unit, value });
    }
  }
  return undefined;
}

/**
 * Which tunnels to equip in which year, so that the most misguided drivers are avoided over the years: each tunnel once
 * and within one year, no year above its budget and its nights, money and nights not carried over. A tunnel counts for
 * the whole of the year in which it is equipped, and for all that follow. Exact, by integer programming, with the bound
 * shown where about `timeLimitS` for everything is not enough. Blocks while it solves. Refuses as `checkProgramme`;
 * throws where a tunnel is there twice or has an unusable figure.
 */
export function planProgramme(
  input: ProgrammeInput,
  highs: Highs,
  { timeLimitS }: { readonly timeLimitS: number },
): Result<Programme> {
  const wrong = checkProgramme(input);
  if (wrong !== undefined) return refused(wrong);
  const model = toProgrammeModel(input);
  const budget = toUnits(model, input.budgetPerYear);
  const best = solveProgramme(model, budget, [], { highs, timeLimitS: timeLimitS / 2 });
  // The step is two questions, the curve one for each point but this one.
  const solver = { highs, timeLimitS: timeLimitS / 2 / (CURVE_POINTS + 1) };
  const plan = toPlan(input, model, best.assignment);
  return done({
    best: plan,
    byRatio: toPlan(input, model, planByRatio(model, budget)),
    // The same sum in another order may differ in its last digits.
    boundDrivers: Math.max(plan.avoidedDrivers, best.bound * model.driversPerValue),
    isProven: best.isProven,
    next: findNext(input, model, best, solver),
    curve: drawCurve(input, model, best, solver),
  });
}

function findNext(
  input: ProgrammeInput,
  model: ProgrammeModel,
  best: ProgrammeAnswer,
  solver: Solver,
): NextStep {
  if (best.assignment.every((year) => year === 1)) return { kind: 'all done' };
  if (!best.isProven) return { kind: 'unknown' };
  const budget = toUnits(model, input.budgetPerYear);
  const found = findNextBudget(model, budget, worthOf(model, best.assignment), solver);
  if (found === 'none') return { kind: 'nights lacking' };
  if (found === 'unknown') return { kind: 'unknown' };
  const answer = solveProgramme(model, found.budget, [found.assignment], solver);
  const budgetPerYear = toMoney(model, found.budget);
  const plan = toPlan(input, model, answer.assignment, budgetPerYear);
  return {
    kind: 'step',
    budgetPerYear,
    extraPerYear: budgetPerYear - input.budgetPerYear,
    plan,
    moreAvoidedDrivers: plan.avoidedDrivers - toPlan(input, model, best.assignment).avoidedDrivers,
    isProven: found.isProven && answer.isProven,
  };
}

function drawCurve(
  input: ProgrammeInput,
  model: ProgrammeModel,
  best: ProgrammeAnswer,
  solver: Solver,
): readonly CurvePoint[] {
  const here = toUnits(model, input.budgetPerYear);
  const all = model.items.reduce((sum, { cost }) => sum + cost, 0);
  const steps = Array.from({ length: CURVE_POINTS - 1 }, (_, i) => Math.ceil((all * i) / (CURVE_POINTS - 2)));
  const budgets = [...new Set([...steps, here])].sort((a, b) => a - b);
  let before: readonly Assignment[] = [];
  return budgets.map((budget) => {
    const known = budget === here ? [...before, best.assignment] : before;
    const answer = budget === here && best.isProven ? best : solveProgramme(model, budget, known, solver);
    before = [answer.assignment];
    const budgetPerYear = budget === here ? input.budgetPerYear : toMoney(model, budget);
    const { cost, avoidedDrivers } = toPlan(input, model, answer.assignment, budgetPerYear);
    const tunnelCount = answer.assignment.filter((year) => year > 0).length;
    return { budgetPerYear, cost, tunnelCount, avoidedDrivers, isProven: answer.isProven };
  });
}
