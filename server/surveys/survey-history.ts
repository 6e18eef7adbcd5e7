import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { NetworkComparison, StandingSurvey } from '../../shared/pipeline/compare-surveys.ts';
import { goBackSchemes } from '../../shared/scheme/go-back.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { type GoneBack, listOverrides } from '../../shared/scheme/survey-log.ts';
import type { RevisionComparison } from '../../shared/wire/comparison.ts';
import type {
  GoBackRequest,
  HistoryView,
  RevisionView,
  SurveyChangeView,
} from '../../shared/wire/history.ts';
import type { CompareTask } from '../jobs/compare-task.ts';
import type { Revision, Store, SurveyHead, SurveyRecord } from '../store/store.ts';
import { getSurvey } from './get-survey.ts';
import { nameSource } from './name-source.ts';

/** So many revisions on a page. */
const PAGE = 50;

/** One page of who did what when; refused as `survey-unknown`. */
export async function listHistory(store: Store, id: string, before?: number): Promise<Result<HistoryView>> {
  const survey = await getSurvey(store, id);
  if (!survey.ok) return survey;
  // One more tells whether there is another page.
  const page = { limit: PAGE + 1, ...(before === undefined ? {} : { before }) };
  const found = await store.listRevisions(id, page);
  const shown = found.slice(0, PAGE);
  const last = shown.at(-1);
  return done({
    revisions: shown.map(toRevisionView),
    ...(found.length > PAGE && last !== undefined ? { before: last.revision } : {}),
  });
}

/**
 * Makes the survey again what it was at a revision, as a new revision: nothing is taken out of the history. Refused as
 * `revision-unknown`, `revision-same`, and `revision-stale` where the survey is not at `baseRevision`.
 */
export async function goBack(
  store: Store,
  id: string,
  toRevision: number,
  { baseRevision, commandId }: GoBackRequest,
): Promise<Result<SurveyRecord>> {
  const found = await getSurvey(store, id);
  if (!found.ok) return found;
  const isDone = (record: SurveyRecord) => record.log.some((entry) => entry.commandId === commandId);
  const now = found.value;
  if (isDone(now)) return done(now);
  if (now.revision !== baseRevision) return stale(now);
  if (now.revision === toRevision) return refused(refusal('revision-same', { revision: toRevision }));
  const then = await store.findAt(id, toRevision);
  if (then === undefined) return refused(refusal('revision-unknown', { revision: toRevision }));
  const entry: GoneBack = {
    kind: 'goBack',
    commandId,
    toRevision,
    overrides: listOverrides(then.record.log),
  };
  const record: SurveyRecord = {
    ...then.record,
    revision: now.revision + 1,
    log: [...now.log, entry],
    // What waits to be adopted waits on.
    ...(now.candidate === undefined ? {} : { candidate: now.candidate }),
  };
  const schemes = goBackSchemes(await store.listSchemes(id), then.schemes, commandId);
  if (await store.swapSurvey(baseRevision, record, { schemes })) return done(record);
  const after = await getSurvey(store, id);
  if (!after.ok) return after;
  return isDone(after.value) ? done(after.value) : stale(after.value);
}

/**
 * What became of a survey since one of its revisions; refused as `revision-unknown` and as `run`, which lays out both
 * states.
 */
export async function compareWithNow(
  store: Store,
  run: (task: CompareTask) => Promise<Result<NetworkComparison>>,
  id: string,
  revision: number,
): Promise<Result<RevisionComparison>> {
  const found = await getSurvey(store, id);
  if (!found.ok) return found;
  const now = found.value;
  const then = await store.findAt(id, revision);
  if (then === undefined) return refused(refusal('revision-unknown', { revision }));
  const compared = await run({
    name: now.name,
    before: toStanding(then.record, then.schemes),
    after: toStanding(now, await store.listSchemes(id)),
  });
  if (!compared.ok) return compared;
  return done({
    surveyRevision: now.revision,
    before: nameSource(then.record.source),
    after: nameSource(now.source),
    ...compared.value,
  });
}

function toStanding({ network, rules }: SurveyRecord, schemes: readonly Scheme[]): StandingSurvey {
  return { network, rules, schemes };
}

const stale = ({ revision }: SurveyRecord) => refused(refusal('revision-stale', { revision }));

function toRevisionView({ revision, at, by, head, edits }: Revision): RevisionView {
  return {
    revision,
    at,
    ...(by === undefined ? {} : { by }),
    changes: head === undefined ? [] : [...listChanges(head.before, head.after)],
    edits: edits.map(({ complexId, entries }) => ({ complexId, entries: [...entries] })),
  };
}

function* listChanges(before: SurveyHead | undefined, after: SurveyHead): Generator<SurveyChangeView> {
  if (before === undefined) {
    yield { kind: 'imported' };
    return;
  }
  const said = after.log.slice(before.log.length);
  for (const entry of said) {
    if (entry.kind === 'goBack') yield { kind: 'goBack', toRevision: entry.toRevision };
    else yield { kind: entry.kind };
  }
  // Going back says it all.
  if (said.some(({ kind }) => kind === 'goBack')) return;
  if (before.name !== after.name) yield { kind: 'renamed', name: after.name };
  const rules = Object.entries(after.rules)
    .filter(([rule, value]) => before.rules[rule as keyof SurveyHead['rules']] !== value)
    .map(([rule, value]) => ({ rule, value }));
  if (rules.length > 0) yield { kind: 'rules', rules };
  if (before.evidence !== after.evidence) yield { kind: 'evidence', isThere: after.evidence !== undefined };
  const isAdopted = said.some(({ kind }) => kind === 'adoptExtract');
  if (before.candidate?.extractId !== after.candidate?.extractId && !isAdopted) {
    yield { kind: 'candidate', isThere: after.candidate !== undefined };
  }
}
