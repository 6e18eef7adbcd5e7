import type { ComplexId } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { askRanking } from '../../shared/pipeline/rank-survey.ts';
import type { Designed } from '../../shared/pipeline/to-survey-layers.ts';
import { type CostEstimate, type Costs, DEFAULT_COSTS } from '../../shared/ranking/cost.ts';
import { type Equipment, findEquipment } from '../../shared/ranking/find-status.ts';
import { type RankInput, rankTunnels, type TunnelFigures } from '../../shared/ranking/rank.ts';
import type { RankFilter } from '../../shared/ranking/rank-filter.ts';
import type { RankFactor } from '../../shared/ranking/rank-score.ts';
import { type DriveVariant, measureRankRanges, type Reached } from '../../shared/ranking/sensitivity.ts';
import { DRIVE_VARIANTS, type RankingRequest, type RankingView } from '../../shared/wire/ranking.ts';
import type { SurveyRecord } from '../store/store.ts';
import type { DerivedSurveys, DrivenSurvey } from './derived-surveys.ts';
import { DRIVE_CASES } from './drive-cases.ts';

/** Which tunnel first, and between which ranks each lies; refused where a column or a cost may not be. */
export async function askSurveyRanking(
  record: SurveyRecord,
  derived: DerivedSurveys,
  request: RankingRequest,
): Promise<Result<RankingView>> {
  const wrong = findWrongColumn(request);
  if (wrong !== undefined) return refused(refusal('request-invalid', { reason: wrong }));
  const costs = toCosts(request.costs);
  const found = await derived.driven(record, DRIVE_CASES);
  const asked = askSurvey(found, derived, costs);
  if (!asked.ok) return asked;
  const input: RankInput = {
    ...asked.value.input,
    factors: (request.factors ?? []).map(toFactor),
    filters: (request.filters ?? []) as readonly RankFilter[],
  };
  const variants = DRIVE_VARIANTS.map(
    (name, i): DriveVariant => ({ name, decisions: found.others[i] ?? new Map() }),
  );
  const ranges = new Map(measureRankRanges(input, variants).map((range) => [range.complexId, range]));
  const { ranked, leftOut } = rankTunnels(input);
  const tell = (figures: TunnelFigures) => toFiguresView(figures, asked.value);
  const rows = ranked.map((one) => ({ ...tell(one), rank: one.rank, ...pickRange(ranges, one.complexId) }));
  return done({
    revision: found.survey.revision,
    satnavShare: input.satnavShare,
    costs,
    rows,
    leftOut: leftOut.map((one) => ({ ...tell(one), unmet: one.unmet })),
  });
}

/** The survey's question with the default factors and filters, and what else is known of each tunnel. */
export type AskedSurvey = {
  readonly input: RankInput;
  readonly costs: ReadonlyMap<string, CostEstimate>;
  readonly designs: ReadonlyMap<string, Designed>;
  readonly equipment: ReadonlyMap<string, Equipment>;
};

/** What a driven survey is ranked by; refuses costs as `checkCosts`. */
export function askSurvey(
  { survey, driven }: DrivenSurvey,
  derived: DerivedSurveys,
  costs: Costs,
): Result<AskedSurvey> {
  const question = askRanking(driven, derived.matched(survey).value.traffic, survey.rules, costs);
  if (!question.ok) return question;
  const designs = new Map<string, Designed>(driven.map((one) => [one.network.complex.id, one]));
  const equipment = new Map<string, Equipment>();
  for (const { network, design, existing = [] } of driven) {
    const found = findEquipment(network, design.rules, design.beacons.length, existing);
    equipment.set(network.complex.id, found);
  }
  return done({ ...question.value, designs, equipment });
}

/** The costs that hold for a request. */
export function toCosts(patch: RankingRequest['costs']): Costs {
  return { ...DEFAULT_COSTS, ...patch } as Costs;
}

function findWrongColumn({ factors = [], filters = [] }: RankingRequest): string | undefined {
  const names = new Set(factors.map(({ name }) => name));
  if (names.size < factors.length) return 'factors: two have the same name';
  const unknown = filters.find((filter) => 'factor' in filter && !names.has(filter.factor));
  if (unknown !== undefined && 'factor' in unknown) return `filters: there is no factor ${unknown.factor}`;
  return undefined;
}

function toFactor({ name, weight, values }: NonNullable<RankingRequest['factors']>[number]): RankFactor {
  const ofComplexes = Object.entries(values) as [ComplexId, number][];
  return { name, weight, values: new Map(ofComplexes) };
}

function pickRange(ranges: ReadonlyMap<string, ReturnType<typeof measureRankRanges>[number]>, id: string) {
  const range = ranges.get(id);
  if (range === undefined) throw new Error(`${id} has no range of ranks`);
  return { best: toReachedView(range.best), worst: toReachedView(range.worst) };
}

function toReachedView({ rank, by }: Reached): RankingView['rows'][number]['best'] {
  if (by?.kind !== 'drives') return by === undefined ? { rank } : { rank, by };
  const name = DRIVE_VARIANTS.find((known) => known === by.name);
  if (name === undefined) throw new Error(`there are no drives with ${by.name}`);
  return { rank, by: { kind: by.kind, name } };
}

function toFiguresView(figures: TunnelFigures, { costs, designs, equipment }: AskedSurvey) {
  const { complexId: id, misguided } = figures;
  const estimate = costs.get(id);
  const own = equipment.get(id);
  const complex = designs.get(id)?.network.complex;
  if (estimate === undefined || own === undefined || complex === undefined) throw new Error(`${id} is lost`);
  return {
    id,
    ...(complex.name === undefined ? {} : { name: complex.name }),
    ...(complex.ref === undefined ? {} : { ref: complex.ref }),
    ...own,
    misguidedPerDay: misguided.perDay.without,
    misguidedPerDayWithDesign: misguided.perDay.with,
    avoidedPerDay: figures.avoidedPerDay,
    cost: figures.cost,
    avoidedPerCost: figures.avoidedPerCost,
    score: figures.score,
    beacons: estimate.beacons,
    nights: estimate.nights,
    costTerms: estimate.terms,
    vehiclesPerDay: figures.vehiclesPerDay,
    isTrafficAssumed: figures.isTrafficAssumed,
    outageS: figures.outageS,
    factors: figures.factors,
    terms: misguided.terms,
  };
}
