import { joinTerms, listBinaries } from '../solver/join-terms.ts';
import { type Assignment, countYears, type ProgrammeModel } from './programme-model.ts';

/** Variable `t3y2` of the programme: whether item 3 is equipped in year 2. */
type Choice = {
  readonly name: string;
  readonly item: number;
  readonly year: number;
  readonly cost: number;
  readonly nights: number;
  readonly gain: number;
};

/** Most gain times years under a budget for each year (in the model's units), as CPLEX LP text. */
export function toGainLp(model: ProgrammeModel, budget: number): string {
  const choices = listChoices(model, budget);
  return toText(['Maximize', ` gain: ${weigh(choices, 'gain')}`], choices, [
    ...listRows(model, choices, 'nights', `<= ${model.nightsPerYear}`),
    ...listRows(model, choices, 'cost', `<= ${budget}`),
  ]);
}

/** The least budget for each year, from `least` (in the model's units), with which the value reaches `target`. */
export function toBudgetLp(model: ProgrammeModel, least: number, target: number): string {
  const choices = listChoices(model, Number.POSITIVE_INFINITY);
  return toText(
    ['Minimize', ' budget: b'],
    choices,
    [
      ...listRows(model, choices, 'nights', `<= ${model.nightsPerYear}`),
      ...listRows(model, choices, 'cost', '- b <= 0'),
      ` value: ${weigh(choices, 'gain')} >= ${target}`,
    ],
    ['Bounds', ` b >= ${least}`],
  );
}

/** The names of the programme's variables. */
export function listNames(model: ProgrammeModel, budget: number): readonly string[] {
  return listChoices(model, budget).map(({ name }) => name);
}

/** The variables that are 1 in an assignment. */
export function toNames(assignment: Assignment): ReadonlySet<string> {
  return new Set(assignment.flatMap((year, item) => (year === 0 ? [] : [nameOf(item, year)])));
}

/** The assignment in which the variables of these names are 1. */
export function toAssignment(model: ProgrammeModel, names: ReadonlySet<string>): Assignment {
  return model.items.map((_, item) => {
    for (let year = 1; year <= model.years; year += 1) if (names.has(nameOf(item, year))) return year;
    return 0;
  });
}

function nameOf(item: number, year: number): string {
  return `t${item}y${year}`;
}

function listChoices(model: ProgrammeModel, budget: number): readonly Choice[] {
  return model.items.flatMap(({ cost, gain, tunnel }, item) =>
    cost > budget
      ? []
      : Array.from({ length: model.years }, (_, i) => ({
          name: nameOf(item, i + 1),
          item,
          year: i + 1,
          cost,
          nights: tunnel.nights,
          gain: gain * countYears(model, i + 1),
        })),
  );
}

function weigh(choices: readonly Choice[], by: 'cost' | 'nights' | 'gain'): string {
  return joinTerms(
    choices.filter((choice) => choice[by] !== 0).map((choice) => `${choice[by]} ${choice.name}`),
  );
}

/** One row for each year; none where nothing weighs. */
function listRows(model: ProgrammeModel, choices: readonly Choice[], by: 'cost' | 'nights', limit: string) {
  return Array.from({ length: model.years }, (_, i) => i + 1).flatMap((year) => {
    const sum = weigh(
      choices.filter((choice) => choice.year === year),
      by,
    );
    return sum === '' ? [] : [` ${by}${year}: ${sum} ${limit}`];
  });
}

function toText(
  objective: readonly string[],
  choices: readonly Choice[],
  rows: readonly string[],
  bounds: readonly string[] = [],
): string {
  const once = new Map<number, Choice[]>();
  for (const choice of choices) once.set(choice.item, [...(once.get(choice.item) ?? []), choice]);
  return [
    ...objective,
    'Subject To',
    ...[...once].map(([item, of]) => ` once${item}: ${joinTerms(of.map(({ name }) => name))} <= 1`),
    ...rows,
    ...bounds,
    ...listBinaries(choices.map(({ name }) => name)),
    'End',
    '',
  ].join('\n');
}
