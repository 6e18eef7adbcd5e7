import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { LogEntry, Scheme } from '../../shared/scheme/scheme.ts';
import type { Tables } from './tables.ts';

type Snapshot = Omit<Scheme, 'log'>;

/** Later than every revision: the greatest number that a column holds. */
const LATEST = 2 ** 31 - 1;

/** The schemes of a survey, or one of them, as they stood at one of its revisions, by complex id. */
export async function readSchemes(
  db: Kysely<Tables>,
  surveyId: string,
  { complexId, at = LATEST }: { readonly complexId?: string; readonly at?: number } = {},
): Promise<readonly Scheme[]> {
  const ofSurvey = db.selectFrom('schemes').where('survey_id', '=', surveyId).where('since', '<=', at);
  const meant = complexId === undefined ? ofSurvey : ofSurvey.where('complex_id', '=', complexId);
  const rows = await meant
    .where(({ or, eb }) => or([eb('ended', 'is', null), eb('ended', '>', at)]))
    .select((part) => [
      'key',
      part
        .selectFrom('snapshots')
        .select('body')
        .whereRef('scheme_key', '=', 'key')
        .where('snapshots.written', '<=', at)
        .orderBy('snapshots.written', 'desc')
        .limit(1)
        .as('snapshot'),
    ])
    .orderBy('complex_id')
    .execute();
  const keys = rows.map(({ key }) => key);
  const logs = await readLogs(db, keys, at);
  return rows.map(({ key, snapshot }) => {
    if (snapshot === null) throw new Error(`scheme ${key} has no snapshot`);
    return { ...(JSON.parse(snapshot) as Snapshot), log: logs.get(key) ?? [] };
  });
}

/** Writes a scheme whose log goes on where the kept one ends; one that nobody has kept yet begins. */
export async function writeScheme(
  db: Kysely<Tables>,
  surveyId: string,
  revision: number,
  scheme: Scheme,
): Promise<void> {
  const kept = await db
    .selectFrom('schemes')
    .select('key')
    .where('survey_id', '=', surveyId)
    .where('complex_id', '=', scheme.complexId)
    .where('ended', 'is', null)
    .executeTakeFirst();
  if (kept === undefined) return beginScheme(db, surveyId, revision, scheme);
  const { count } = await db
    .selectFrom('commands')
    .select((part) => part.fn.countAll().as('count'))
    .where('scheme_key', '=', kept.key)
    .executeTakeFirstOrThrow();
  await continueScheme(db, kept.key, revision, scheme, Number(count));
}

/**
 * Lets `schemes` take the place of all schemes of a survey. A log that goes on is continued; every other one ends
 * here and stays as history.
 */
export async function replaceSchemes(
  db: Kysely<Tables>,
  surveyId: string,
  revision: number,
  schemes: readonly Scheme[],
): Promise<void> {
  const rows = await db
    .selectFrom('schemes')
    .select(['key', 'complex_id', 'revision'])
    .where('survey_id', '=', surveyId)
    .where('ended', 'is', null)
    .execute();
  const keys = rows.map(({ key }) => key);
  const logs = await readLogs(db, keys);
  const begun = new Map(schemes.map((scheme) => [scheme.complexId as string, scheme]));
  const ended: string[] = [];
  for (const { key, complex_id: complexId, revision: kept } of rows) {
    const scheme = begun.get(complexId);
    const log = logs.get(key) ?? [];
    if (scheme !== undefined && goesOn(log, scheme.log)) {
      begun.delete(complexId);
      // Where nothing has happened to it, what is kept holds.
      if (scheme.revision !== kept) await continueScheme(db, key, revision, scheme, log.length);
    } else ended.push(key);
  }
  for (const part of inParts(ended)) {
    await db.updateTable('schemes').set({ ended: revision }).where('key', 'in', part).execute();
  }
  for (const scheme of begun.values()) await beginScheme(db, surveyId, revision, scheme);
}

function goesOn(before: readonly LogEntry[], after: readonly LogEntry[]): boolean {
  return before.every(({ commandId }, i) => after[i]?.commandId === commandId);
}

async function readLogs(
  db: Kysely<Tables>,
  keys: readonly string[],
  at = LATEST,
): Promise<ReadonlyMap<string, readonly LogEntry[]>> {
  const logs = new Map<string, LogEntry[]>(keys.map((key) => [key, []]));
  for (const part of inParts(keys)) {
    const commands = await db
      .selectFrom('commands')
      .select(['scheme_key', 'body'])
      .where('scheme_key', 'in', part)
      .where('revision', '<=', at)
      .orderBy('scheme_key')
      .orderBy('seq')
      .execute();
    for (const { scheme_key: key, body } of commands) logs.get(key)?.push(JSON.parse(body) as LogEntry);
  }
  return logs;
}

async function beginScheme(
  db: Kysely<Tables>,
  surveyId: string,
  revision: number,
  scheme: Scheme,
): Promise<void> {
  const key = randomUUID();
  const at = { since: revision, written: revision, ended: null };
  await db
    .insertInto('schemes')
    .values({ key, survey_id: surveyId, complex_id: scheme.complexId, revision: scheme.revision, ...at })
    .execute();
  await addWritten(db, key, revision, scheme, 0);
}

async function continueScheme(
  db: Kysely<Tables>,
  key: string,
  revision: number,
  scheme: Scheme,
  keptCount: number,
): Promise<void> {
  await db
    .updateTable('schemes')
    .set({ revision: scheme.revision, written: revision })
    .where('key', '=', key)
    .execute();
  await addWritten(db, key, revision, scheme, keptCount);
}

async function addWritten(
  db: Kysely<Tables>,
  key: string,
  revision: number,
  { log, ...snapshot }: Scheme,
  keptCount: number,
): Promise<void> {
  await db
    .insertInto('snapshots')
    .values({ scheme_key: key, written: revision, body: JSON.stringify(snapshot) })
    .execute();
  const rows = log.slice(keptCount).map((entry, i) => ({
    scheme_key: key,
    seq: keptCount + i,
    command_id: entry.commandId,
    revision,
    body: JSON.stringify(entry),
  }));
  for (const part of inParts(rows)) await db.insertInto('commands').values(part).execute();
}

/** So many at once: a database allows only so many values in one statement. */
const PER_STATEMENT = 500;

function* inParts<T>(items: readonly T[]): Generator<readonly T[]> {
  for (let start = 0; start < items.length; start += PER_STATEMENT) {
    yield items.slice(start, start + PER_STATEMENT);
  }
}
