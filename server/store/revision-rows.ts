import type { Kysely } from 'kysely';
import type { ComplexId } from '../../shared/network/network.ts';
import type { LogEntry } from '../../shared/scheme/scheme.ts';
import type { Revision, SurveyHead } from './store.ts';
import type { Tables } from './tables.ts';

/** Reads a page of a survey's history, the newest revision first. */
export async function readRevisions(
  db: Kysely<Tables>,
  surveyId: string,
  { before, limit }: { readonly before?: number; readonly limit: number },
): Promise<readonly Revision[]> {
  let asked = db.selectFrom('revisions').selectAll().where('survey_id', '=', surveyId);
  if (before !== undefined) asked = asked.where('revision', '<', before);
  const rows = await asked.orderBy('revision', 'desc').limit(limit).execute();
  const oldest = rows.at(-1);
  if (oldest === undefined) return [];
  const edits = await readEdits(db, surveyId, oldest.revision, rows[0]?.revision ?? 0);
  let head = await readHead(db, surveyId, oldest.revision);
  return rows
    .reverse()
    .map(({ revision, at, made_by: by, head: text }): Revision => {
      const after = text === null ? undefined : (JSON.parse(text) as SurveyHead);
      const changed =
        after === undefined ? {} : { head: { ...(head === undefined ? {} : { before: head }), after } };
      head = after ?? head;
      return { revision, at, ...(by === null ? {} : { by }), ...changed, edits: edits.get(revision) ?? [] };
    })
    .reverse();
}

/** A survey's row as it was at a revision. */
export async function readSurveyAt(db: Kysely<Tables>, surveyId: string, revision: number) {
  const survey = await db
    .selectFrom('surveys')
    .innerJoin('revisions', 'revisions.survey_id', 'surveys.id')
    .select(['surveys.id', 'surveys.created_at', 'revisions.revision'])
    .where('surveys.id', '=', surveyId)
    .where('revisions.revision', '=', revision)
    .executeTakeFirst();
  if (survey === undefined) return undefined;
  const head = await findHead(db, surveyId, revision);
  return head === undefined ? undefined : { ...survey, head };
}

/** What the survey was before a revision. */
async function readHead(
  db: Kysely<Tables>,
  surveyId: string,
  revision: number,
): Promise<SurveyHead | undefined> {
  const head = await findHead(db, surveyId, revision - 1);
  return head === undefined ? undefined : (JSON.parse(head) as SurveyHead);
}

async function findHead(db: Kysely<Tables>, surveyId: string, upTo: number): Promise<string | undefined> {
  const row = await db
    .selectFrom('revisions')
    .select('head')
    .where('survey_id', '=', surveyId)
    .where('revision', '<=', upTo)
    .where('head', 'is not', null)
    .orderBy('revision', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row?.head ?? undefined;
}

/** The log entries of the revisions of a range, by revision. */
async function readEdits(
  db: Kysely<Tables>,
  surveyId: string,
  from: number,
  to: number,
): Promise<ReadonlyMap<number, Revision['edits']>> {
  const rows = await db
    .selectFrom('commands')
    .innerJoin('schemes', 'schemes.key', 'commands.scheme_key')
    .select(['commands.revision', 'schemes.complex_id', 'commands.body'])
    .where('schemes.survey_id', '=', surveyId)
    .where('commands.revision', '>=', from)
    .where('commands.revision', '<=', to)
    .orderBy('commands.revision')
    .orderBy('schemes.complex_id')
    .orderBy('commands.seq')
    .execute();
  const edits = new Map<number, { complexId: ComplexId; entries: LogEntry[] }[]>();
  for (const { revision, complex_id: id, body } of rows) {
    const ofRevision = edits.get(revision) ?? [];
    edits.set(revision, ofRevision);
    const last = ofRevision.at(-1);
    if (last?.complexId === id) last.entries.push(JSON.parse(body) as LogEntry);
    else ofRevision.push({ complexId: id as ComplexId, entries: [JSON.parse(body) as LogEntry] });
  }
  return edits;
}
