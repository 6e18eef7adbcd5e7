import type { ComplexId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';

/** A tunnel that waits to be equipped. */
export type ProgrammeTunnel = {
  readonly id: ComplexId;
  /** Units of money, counted to the hundredth. */
  readonly cost: number;
  readonly nights: number;
  /** Misguided drivers of a day that its design avoids. */
  readonly gainPerDay: number;
};

export type ProgrammeInput = {
  readonly tunnels: readonly ProgrammeTunnel[];
  readonly years: number;
  /** Units of money. */
  readonly budgetPerYear: number;
  readonly nightsPerYear: number;
  /** All crews that there are. */
  readonly crews: number;
  /** Crews that a closed bore takes, as the tunnels' nights were estimated with. */
  readonly crewsPerNight: number;
};

/**
 * A programme in whole numbers, so that a sum of costs is exact. Only tunnels that may be planned: with a gain, and
 * done within a year's nights. By id, so that the order in which they are given is of no account.
 */
export type ProgrammeModel = {
  readonly items: readonly ProgrammeItem[];
  readonly years: number;
  /** Bore-nights of a year: in each closure night, as many bores as there are crews for. */
  readonly nightsPerYear: number;
  /** Hundredths of money in one unit: their greatest common divisor. */
  readonly hundredthsPerUnit: number;
  /** What a value of 1 is in misguided drivers avoided, at 365 days a year. */
  readonly driversPerValue: number;
};

export type ProgrammeItem = {
  readonly tunnel: ProgrammeTunnel;
  /** In units of the model. */
  readonly cost: number;
  /** The gain in parts of the greatest, which with all its years is 1000: an even scale for the solver. */
  readonly gain: number;
};

/** For each item the year in which it is equipped, from 1; 0 for never. */
export type Assignment = readonly number[];

export const DAYS_PER_YEAR = 365;

const HUNDREDTHS = 100;
const GREATEST = 1000;

/** How many bores the crews can work in at the same time. */
function countClosures({ crews, crewsPerNight }: ProgrammeInput): number {
  return Math.floor(crews / crewsPerNight);
}

/** Makes the whole-number programme; throws where a tunnel is there twice or has an unusable figure. */
export function toProgrammeModel(input: ProgrammeInput): ProgrammeModel {
  checkTunnels(input.tunnels);
  const { years, nightsPerYear } = input;
  const tunnels = input.tunnels
    .filter(({ gainPerDay, nights }) => gainPerDay > 0 && nights <= nightsPerYear)
    .sort((a, b) => byText(a.id, b.id));
  const unit = tunnels.reduce((divisor, { cost }) => findDivisor(divisor, toHundredths(cost)), 0) || 1;
  const greatest = tunnels.reduce((most, { gainPerDay }) => Math.max(most, gainPerDay), 0);
  return {
    items: tunnels.map((tunnel) => ({
      tunnel,
      cost: toHundredths(tunnel.cost) / unit,
      gain: (tunnel.gainPerDay / greatest / years) * GREATEST,
    })),
    years,
    // Bores that are closed in the same nights can always be arranged: none needs more nights than there are, and all
    // together no more than there are bore-nights (McNaughton's rule).
    nightsPerYear: nightsPerYear * countClosures(input),
    hundredthsPerUnit: unit,
    driversPerValue: (greatest * years * DAYS_PER_YEAR) / GREATEST,
  };
}

/** A budget in the model's units, rounded down. */
export function toUnits(model: ProgrammeModel, money: number): number {
  return Math.floor(toHundredths(money) / model.hundredthsPerUnit);
}

/** So many of the model's units, as money. */
export function toMoney(model: ProgrammeModel, units: number): number {
  return (units * model.hundredthsPerUnit) / HUNDREDTHS;
}

/** For how many years a tunnel counts that is equipped in `year`: that one too. */
export function countYears({ years }: Pick<ProgrammeModel, 'years'>, year: number): number {
  return year === 0 ? 0 : years - year + 1;
}

/** What an assignment is worth: gain times years, on the model's scale. */
export function worthOf(model: ProgrammeModel, assignment: Assignment): number {
  return model.items.reduce((sum, { gain }, i) => sum + gain * countYears(model, assignment[i] ?? 0), 0);
}

/** What is spent in the dearest year, in the model's units. */
export function findDearest(model: ProgrammeModel, assignment: Assignment): number {
  return Math.max(...listSums(model, assignment, ({ cost }) => cost));
}

/** Whether no year exceeds its nights or a budget in the model's units. */
export function isWithin(model: ProgrammeModel, assignment: Assignment, budget: number): boolean {
  const nights = listSums(model, assignment, ({ tunnel }) => tunnel.nights);
  return findDearest(model, assignment) <= budget && nights.every((sum) => sum <= model.nightsPerYear);
}

function listSums(model: ProgrammeModel, assignment: Assignment, of: (item: ProgrammeItem) => number) {
  const sums = Array.from({ length: model.years }, () => 0);
  model.items.forEach((item, i) => {
    const year = assignment[i] ?? 0;
    if (year > 0) sums[year - 1] = (sums[year - 1] ?? 0) + of(item);
  });
  return sums;
}

function checkTunnels(tunnels: readonly ProgrammeTunnel[]): void {
  const seen = new Set<ComplexId>();
  for (const { id, cost, nights, gainPerDay } of tunnels) {
    const isUsable =
      Number.isSafeInteger(toHundredths(cost)) && cost >= 0 && Number.isInteger(nights) && nights >= 0;
    if (!isUsable || !Number.isFinite(gainPerDay)) throw new Error(`tunnel ${id} has no usable figures`);
    if (seen.has(id)) throw new Error(`tunnel ${id} is there twice`);
    seen.add(id);
  }
}

function toHundredths(money: number): number {
  return Math.round(money * HUNDREDTHS);
}

function findDivisor(a: number, b: number): number {
  return b === 0 ? a : findDivisor(b, a % b);
}
