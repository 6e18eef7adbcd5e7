import type { ComplexId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import {
  type Assignment,
  countYears,
  DAYS_PER_YEAR,
  type ProgrammeInput,
  type ProgrammeModel,
  type ProgrammeTunnel,
} from './programme-model.ts';

export type PlanYear = {
  /** From 1. */
  readonly year: number;
  /** By id. */
  readonly ids: readonly ComplexId[];
  readonly cost: number;
  readonly nights: number;
  /** Misguided drivers of a day that all that is equipped by the end of this year avoids. */
  readonly avoidedPerDay: number;
};

/**
 * Why a tunnel is in no year: its design avoids nothing; it costs more than a year's budget; it needs more nights than
 * a year has; or the money and nights that it would take are better spent on others.
 */
export type LeftOutReason = 'no gain' | 'too dear' | 'too many nights' | 'others first';

export type Plan = {
  readonly years: readonly PlanYear[];
  readonly cost: number;
  readonly nights: number;
  /** Misguided drivers that are avoided from the first year to the last, 365 days each. */
  readonly avoidedDrivers: number;
  /** By id. */
  readonly leftOut: readonly { readonly id: ComplexId; readonly why: LeftOutReason }[];
};

/** An assignment as a plan, with what it leaves out and why; `budgetPerYear` where it is not the input's. */
export function toPlan(
  input: ProgrammeInput,
  model: ProgrammeModel,
  assignment: Assignment,
  budgetPerYear: number = input.budgetPerYear,
): Plan {
  const years: PlanYear[] = [];
  let avoidedPerDay = 0;
  let avoidedDrivers = 0;
  for (let year = 1; year <= model.years; year += 1) {
    const tunnels = model.items.flatMap(({ tunnel }, i) => (assignment[i] === year ? [tunnel] : []));
    const gainPerDay = sum(tunnels.map((tunnel) => tunnel.gainPerDay));
    avoidedPerDay += gainPerDay;
    avoidedDrivers += gainPerDay * DAYS_PER_YEAR * countYears(model, year);
    years.push({
      year,
      ids: tunnels.map(({ id }) => id),
      cost: sum(tunnels.map(({ cost }) => cost)),
      nights: sum(tunnels.map(({ nights }) => nights)),
      avoidedPerDay,
    });
  }
  return {
    years,
    cost: sum(years.map(({ cost }) => cost)),
    nights: sum(years.map(({ nights }) => nights)),
    avoidedDrivers,
    leftOut: listLeftOut(input, new Set(years.flatMap(({ ids }) => ids)), budgetPerYear),
  };
}

function listLeftOut(input: ProgrammeInput, planned: ReadonlySet<ComplexId>, budgetPerYear: number) {
  return input.tunnels
    .filter(({ id }) => !planned.has(id))
    .map((tunnel) => ({ id: tunnel.id, why: whyLeftOut(tunnel, budgetPerYear, input.nightsPerYear) }))
    .sort((a, b) => byText(a.id, b.id));
}

function whyLeftOut(
  { cost, nights, gainPerDay }: ProgrammeTunnel,
  budgetPerYear: number,
  nightsPerYear: number,
): LeftOutReason {
  if (gainPerDay <= 0) return 'no gain';
  if (Math.round(cost * 100) > Math.round(budgetPerYear * 100)) return 'too dear';
  return nights > nightsPerYear ? 'too many nights' : 'others first';
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
