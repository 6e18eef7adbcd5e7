import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { checkProgramme, PROGRAMME_FIELDS } from '../../shared/ranking/programme.ts';
import type { ProgrammeInput, ProgrammeTunnel } from '../../shared/ranking/programme-model.ts';
import { listFigures } from '../../shared/ranking/rank.ts';
import type { ProgrammeRequest, ProgrammeView } from '../../shared/wire/ranking.ts';
import { planInThread } from '../solver/plan-in-thread.ts';
import type { SurveyRecord } from '../store/store.ts';
import { askSurvey, toCosts } from './ask-survey-ranking.ts';
import type { DerivedSurveys } from './derived-surveys.ts';

/** Somebody waits for the answer; where this is not enough it comes with its bound. */
const TIME_LIMIT_S = 20;

/** Programmes wait for each other: each takes a whole core and its own memory. */
let before: Promise<unknown> = Promise.resolve();

/**
 * Which tunnels in which year; those that are equipped already take no part. Refuses as `checkProgramme` and
 * `checkCosts`, and as `job-cancelled` where `signal` fires before there is an answer.
 */
export async function planSurvey(
  record: SurveyRecord,
  derived: DerivedSurveys,
  request: ProgrammeRequest,
  signal: AbortSignal,
): Promise<Result<ProgrammeView>> {
  const costs = toCosts(request.costs);
  const found = await derived.driven(record);
  const asked = askSurvey(found, derived, costs);
  if (!asked.ok) return asked;
  const { equipment } = asked.value;
  const tunnels: ProgrammeTunnel[] = [];
  const equipped: string[] = [];
  for (const { complexId: id, cost, avoidedPerDay: gainPerDay } of listFigures(asked.value.input)) {
    const nights = asked.value.costs.get(id)?.nights ?? 0;
    if (equipment.get(id)?.status === 'equipped') equipped.push(id);
    else tunnels.push({ id, cost, nights, gainPerDay });
  }
  const { years, budgetPerYear, nightsPerYear } = request;
  const { crewsPerNight } = costs;
  const crews = request.crews ?? Math.max(PROGRAMME_FIELDS.crews.fallback, crewsPerNight);
  const limits = { years, budgetPerYear, nightsPerYear, crews };
  const input: ProgrammeInput = { ...limits, crewsPerNight, tunnels };
  const wrong = checkProgramme(input);
  if (wrong !== undefined) return refused(wrong);
  const solved = await inTurn(() => planInThread({ input, timeLimitS: TIME_LIMIT_S }, signal));
  if (solved === undefined) return refused(refusal('job-cancelled'));
  if (!solved.ok) return solved;
  return done({ revision: found.survey.revision, ...limits, costs, equipped, ...solved.value });
}

function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const mine = before.then(work, work);
  before = mine.catch(() => undefined);
  return mine;
}
