import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { LogEntry, Scheme } from '../../shared/scheme/scheme.ts';
import type { Tables } from './tables.ts';

type Snapshot = Omit<Scheme, 'log'>;

/** Later than every revision: the greatest number that a column holds. */
const LATEST = 2 ** 31 - 1;

/** Schemes by the key of their row, as they were read last: logs only grow, so that only what is new is read. */
export type ReadSchemes = Map<string, { readonly written: number; readonly scheme: Scheme }>;

/** The schemes of a survey, or one of them, as they stand, by complex id. */
export async function readSchemes(
  db: Kysely<Tables>,
  known: ReadSchemes,
  surveyId: string,
  complexId?: string,
): Promise<readonly Scheme[]> {
  const ofSurvey = selectSchemes(db, surveyId, LATEST);
  const rows = await (complexId === undefined
    ? ofSurvey
    : ofSurvey.where('complex_id', '=', complexId)
  ).execute();
  const schemes: Scheme[] = [];
  // One by one: hardly any has changed since it was read last.
  for (const { key, written } of rows) {
    const before = known.get(key);
    const scheme =
      before?.written === written ? before.scheme : await readScheme(db, key, written, before?.scheme.log);
    known.set(key, { written, scheme });
    schemes.push(scheme);
  }
  return schemes;
}

/** The schemes of a survey as they stood at one of its revisions, by complex id. */
export async function readSchemesAt(
  db: Kysely<Tables>,
  surveyId: string,
  revision: number,
): Promise<readonly Scheme[]> {
  const rows = await selectSchemes(db, surveyId, revision).execute();
  return Promise.all(rows.map(({ key }) => readScheme(db, key, revision)));
}

function selectSchemes(db: Kysely<Tables>, surveyId: string, at: number) {
  return db
    .selectFrom('schemes')
    .select(['key', 'written'])
    .where('survey_id', '=', surveyId)
    .where('since', '<=', at)
    .where(({ or, eb }) => or([eb('ended', 'is', null), eb('ended', '>', at)]))
    .orderBy('complex_id');
}

/** Reads one scheme as it stood at a revision of its survey, the beginning of its log where that is not known. */
async function readScheme(
  db: Kysely<Tables>,
  key: string,
  at: number,
  known: readonly LogEntry[] = [],
): Promise<Scheme> {
  const { body } = await db
    .selectFrom('snapshots')
    .select('body')
    .where('scheme_key', '=', key)
    .where('written', '<=', at)
    .orderBy('written', 'desc')
    .limit(1)
    .executeTakeFirstOrThrow();
  const more = await db
    .selectFrom('commands')
    .select('body')
    .where('scheme_key', '=', key)
    .where('seq', '>=', known.length)
    .where('revision', '<=', at)
    .orderBy('seq')
    .execute();
  const log = [...known, ...more.map((row) => JSON.parse(row.body) as LogEntry)];
  return { ...(JSON.parse(body) as Snapshot), log };
}

/** The row of a scheme as it is kept, with the length of its log. */
export type KeptScheme = { readonly key: string; readonly revision: number; readonly count: number };

/** Finds a scheme of a survey as it stands now; undefined where nobody has kept one. */
export async function findKept(
  db: Kysely<Tables>,
  surveyId: string,
  complexId: string,
): Promise<KeptScheme | undefined> {
  const row = await db
    .selectFrom('schemes')
    .select((part) => [
      'key',
      'revision',
      part
        .selectFrom('commands')
        .select((own) => own.fn.countAll().as('count'))
        .whereRef('scheme_key', '=', 'key')
        .as('count'),
    ])
    .where('survey_id', '=', surveyId)
    .where('complex_id', '=', complexId)
    .where('ended', 'is', null)
    .executeTakeFirst();
  return row === undefined ? undefined : { ...row, count: Number(row.count) };
}

/** Writes a scheme whose log goes on where the kept one ends; one that nobody has kept yet begins. */
export function writeScheme(
  db: Kysely<Tables>,
  surveyId: string,
  revision: number,
  scheme: Scheme,
  kept: KeptScheme | undefined,
): Promise<void> {
  return kept === undefined
    ? beginScheme(db, surveyId, revision, scheme)
    : continueScheme(db, kept.key, revision, scheme, kept.count);
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
): Promise<ReadonlyMap<string, readonly LogEntry[]>> {
  const logs = new Map<string, LogEntry[]>(keys.map((key) => [key, []]));
  for (const part of inParts(keys)) {
    const commands = await db
      .selectFrom('commands')
      .select(['scheme_key', 'body'])
      .where('scheme_key', 'in', part)
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
