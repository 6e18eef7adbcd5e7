import profile from '../../data/profiles/costs.json';
import { joinByNodes } from '../network/group-links.ts';
import type { Link } from '../network/network.ts';
import { type Refusal, refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import type { Beacon } from '../placement/beacon.ts';
import type { NumberSpec } from '../placement/rules.ts';

type CostField = keyof typeof profile.fields;

/** What mounting comes to; units are in the names, money in the user's own. */
export type Costs = Readonly<Record<CostField, number>>;

/** The set that the values are from; raised whenever one of them changes. */
export const COSTS_VERSION: number = profile.version;

/** Range, default, meaning and source of each value. */
export const COST_FIELDS: Readonly<Record<CostField, NumberSpec>> = profile.fields;

/** The values that hold unless the user says otherwise. */
export const DEFAULT_COSTS: Costs = Object.fromEntries(
  Object.entries(COST_FIELDS).map(([name, { fallback }]) => [name, fallback]),
) as Costs;

/** One line of the working: `count` times `each`, in units of money. */
export type CostTerm = {
  readonly name: 'beacons' | 'closure nights' | 'crew nights';
  readonly count: number;
  readonly each: number;
  readonly cost: number;
};

export type CostEstimate = {
  readonly beacons: number;
  readonly nights: number;
  /** What all crews together mount in one night, beacons. */
  readonly beaconsPerNight: number;
  /** Units of money: the sum of `terms`, in their order. */
  readonly cost: number;
  readonly terms: readonly CostTerm[];
};

/** The refusal for the first value that may not be (`rule-invalid`), or where no beacon fits into a night (`window-too-short`). */
export function checkCosts(costs: Costs): Refusal | undefined {
  for (const name of Object.keys(COST_FIELDS) as CostField[]) {
    const { label, min, max, unit } = COST_FIELDS[name];
    const value = costs[name];
    const isWhole = name !== 'crewsPerNight' || Number.isInteger(value);
    if (!(value >= min && value <= max && isWhole)) {
      return refusal('rule-invalid', { rule: label, min, max, unit, value });
    }
  }
  if (countPerCrewNight(costs) >= 1) return undefined;
  return refusal('window-too-short', { windowH: costs.windowH, workMin: Math.max(0, workMinutes(costs)) });
}

/**
 * What it costs to mount a design: units of money and closure nights, from the number of beacons in each bore. A bore
 * is closed by itself, so that nights are not shared between bores; all crews are paid for each night. Refuses as
 * `checkCosts`; throws where a count is not a whole number from 0.
 */
export function estimateCost(boreCounts: readonly number[], costs: Costs): Result<CostEstimate> {
  const wrong = checkCosts(costs);
  if (wrong !== undefined) return refused(wrong);
  for (const count of boreCounts) {
    if (!Number.isInteger(count) || count < 0) throw new Error(`${count} is no number of beacons`);
  }
  const beaconsPerNight = countPerCrewNight(costs) * costs.crewsPerNight;
  const beacons = boreCounts.reduce((sum, count) => sum + count, 0);
  const nights = boreCounts.reduce((sum, count) => sum + Math.ceil(count / beaconsPerNight), 0);
  const terms = [
    toTerm('beacons', beacons, costs.beaconCost),
    toTerm('closure nights', nights, costs.nightCost),
    toTerm('crew nights', nights * costs.crewsPerNight, costs.crewNightCost),
  ];
  const cost = terms.reduce((sum, term) => sum + term.cost, 0);
  return done({ beacons, nights, beaconsPerNight, cost, terms });
}

/** How many of a design's beacons stand in each bore of a complex: in links that hang together underground. */
export function countByBore(
  links: readonly Link[],
  beacons: readonly Pick<Beacon, 'at'>[],
): readonly number[] {
  const perLink = new Map<string, number>();
  for (const { at } of beacons) perLink.set(at.linkId, (perLink.get(at.linkId) ?? 0) + 1);
  return joinByNodes(links).map((bore) => bore.reduce((sum, { id }) => sum + (perLink.get(id) ?? 0), 0));
}

function toTerm(name: CostTerm['name'], count: number, each: number): CostTerm {
  return { name, count, each, cost: count * each };
}

function workMinutes({ windowH, setUpMin, clearDownMin }: Costs): number {
  return windowH * 60 - setUpMin - clearDownMin;
}

/** 7 h less twice 45 min leave 330 min: 66 beacons at 12 an hour. */
function countPerCrewNight(costs: Costs): number {
  return Math.max(0, Math.floor((workMinutes(costs) * costs.beaconsPerCrewHour) / 60));
}
