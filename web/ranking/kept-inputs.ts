import type { Costs } from '../../shared/ranking/cost.ts';
import { PROGRAMME_FIELDS } from '../../shared/ranking/programme.ts';
import type { RankFilter } from '../../shared/ranking/rank-filter.ts';
import type { ProgrammeRequest, RankingRequest } from '../../shared/wire/ranking.ts';
import { makeStore, type Store } from '../session/make-store.ts';

/** A column of the user's own: values by tunnel id. */
export type OwnFactor = {
  readonly name: string;
  readonly weight: number;
  readonly values: Readonly<Record<string, number>>;
};

/** What a person set for a survey's ranking and programme; what was left alone is absent. */
export type Inputs = {
  readonly costs: Partial<Costs>;
  readonly factors: readonly OwnFactor[];
  readonly filters: readonly RankFilter[];
  readonly years: number;
  readonly budgetPerYear: number;
  readonly nightsPerYear: number;
  /** Absent: the default. */
  readonly crews?: number;
};

export const FIRST_INPUTS: Inputs = {
  costs: {},
  factors: [],
  filters: [],
  years: PROGRAMME_FIELDS.years.fallback,
  budgetPerYear: PROGRAMME_FIELDS.budgetPerYear.fallback,
  nightsPerYear: PROGRAMME_FIELDS.nightsPerYear.fallback,
};

export type KeptInputs = ReturnType<typeof createKeptInputs>;

/** Keeps the inputs of each survey in the browser; where its storage is closed to us, as long as the page. */
export function createKeptInputs(findStorage: () => Pick<Storage, 'getItem' | 'setItem'>) {
  const stores = new Map<string, Store<Inputs>>();
  return {
    /** The inputs of a survey, the same store each time. */
    of(surveyId: string): Store<Inputs> {
      const known = stores.get(surveyId);
      if (known !== undefined) return known;
      const store = makeStore(read(findStorage, toKey(surveyId)));
      store.subscribe(() => {
        try {
          findStorage().setItem(toKey(surveyId), JSON.stringify(store.get()));
        } catch {
          // They end with the page.
        }
      });
      stores.set(surveyId, store);
      return store;
    },
  };
}

/** The question which tunnel first. */
export function toRankingRequest({ costs, factors, filters }: Inputs): RankingRequest {
  return {
    costs: costs as NonNullable<RankingRequest['costs']>,
    factors: factors.map((factor) => ({ ...factor, values: { ...factor.values } })),
    filters: filters.map((filter) => ({ ...filter })),
  };
}

/** The question which tunnels in which year. */
export function toProgrammeRequest(inputs: Inputs): ProgrammeRequest {
  const { years, budgetPerYear, nightsPerYear, crews, costs } = inputs;
  return {
    years,
    budgetPerYear,
    nightsPerYear,
    ...(crews === undefined ? {} : { crews }),
    costs: costs as NonNullable<ProgrammeRequest['costs']>,
  };
}

const toKey = (surveyId: string) => `boremark-ranking-${surveyId}`;

function read(findStorage: () => Pick<Storage, 'getItem'>, key: string): Inputs {
  try {
    const stored = JSON.parse(findStorage().getItem(key) ?? '{}') as Partial<Inputs> | null;
    const isSound = Array.isArray(stored?.factors) && Array.isArray(stored.filters);
    return isSound ? { ...FIRST_INPUTS, ...stored } : FIRST_INPUTS;
  } catch {
    return FIRST_INPUTS;
  }
}
