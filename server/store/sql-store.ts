import type { Kysely, Transaction } from 'kysely';
import { whoActs } from '../acting.ts';
import { LatestMap } from '../latest-map.ts';
import type { ChangeBus, StoreChange } from './changes.ts';
import { forgetRun } from './job-rows.ts';
import { type Commit, Overtaken } from './overtaken.ts';
import { readRevisions, readSurveyAt } from './revision-rows.ts';
import {
  findKept,
  type ReadSchemes,
  readSchemes,
  readSchemesAt,
  replaceSchemes,
  writeScheme,
} from './scheme-rows.ts';
import type { Store, SurveyRecord } from './store.ts';
import { createSurveyRows, type WrittenSurvey } from './survey-rows.ts';
import type { Tables } from './tables.ts';
import { createViewRows } from './view-rows.ts';

export type SqlStoreDeps = {
  readonly db: Kysely<Tables>;
  readonly now: () => Date;
  readonly bus: ChangeBus;
  /** Tells other servers of a change, at the moment it is committed; absent where there are none. */
  readonly announce?: (trx: Transaction<Tables>, change: StoreChange) => Promise<void>;
  /** Jobs in the same database. */
  readonly makeJobs: (commit: Commit) => Store['jobs'];
  /** Ends what the database was opened with. */
  readonly close: () => Promise<void>;
};

/** So many surveys are held in memory: a country's network takes a hundred megabytes. */
const IN_MEMORY = 16;

/** Keeps everything in a database that migrate() has brought to this version. */
export function createSqlStore({ db, now, bus, announce, makeJobs, close }: SqlStoreDeps): Store {
  const rows = createSurveyRows();
  /** Each survey as it was read last: its network takes long to read. */
  const last = new LatestMap<string, SurveyRecord>(IN_MEMORY);
  const read: ReadSchemes = new Map();

  const findBlob = async (id: string): Promise<Uint8Array> => {
    const bytes = await readBlob(db, id);
    if (bytes === undefined) throw new Error(`the store names ${id}, but does not hold it`);
    return bytes;
  };

  const hasBlob = async (id: string): Promise<boolean> =>
    (await db.selectFrom('blobs').select('id').where('id', '=', id).executeTakeFirst()) !== undefined;

  let generation: number | undefined;
  const listeners = new Set<() => void>();

  /** After a restore what was read before holds no longer. */
  const noticeGeneration = (now: number | null) => {
    if (now === generation) return;
    generation = now ?? undefined;
    last.clear();
    read.clear();
    for (const listener of listeners) listener();
    bus.emit({});
  };

  const findSurvey = async (id: string): Promise<SurveyRecord | undefined> => {
    const found = await db
      .selectFrom('surveys')
      .select((part) => [
        'created_at',
        'revision',
        part.selectFrom('store').select('generation').as('generation'),
      ])
      .where('id', '=', id)
      .executeTakeFirst();
    if (found !== undefined) noticeGeneration(found.generation);
    if (found === undefined) {
      last.delete(id);
      return undefined;
    }
    const before = last.get(id);
    if (before?.revision === found.revision && before.createdAt === found.created_at) return before;
    const row = await db.selectFrom('surveys').selectAll().where('id', '=', id).executeTakeFirst();
    if (row === undefined) return undefined;
    const record = await rows.read(row, findBlob, before).catch(async (error) => {
      const now = await db.selectFrom('surveys').select('head').where('id', '=', id).executeTakeFirst();
      if (now?.head === row.head) throw error;
      return undefined;
    });
    // It was removed, or became another one, while its parts were read.
    if (record === undefined) return findSurvey(id);
    last.set(id, record);
    return record;
  };

  const commit: Commit = async (work) => {
    try {
      const made = await db.transaction().execute(async (trx) => {
        const change = await work(trx);
        await announce?.(trx, change);
        return change;
      });
      // Who announces hears it, too.
      if (announce === undefined) bus.emit(made);
      return true;
    } catch (error) {
      if (error instanceof Overtaken) return false;
      throw error;
    }
  };

  const addRevision = (trx: Transaction<Tables>, id: string, revision: number, head: string | null) =>
    trx
      .insertInto('revisions')
      .values({ survey_id: id, revision, at: now().toISOString(), made_by: whoActs() ?? null, head })
      .execute();

  return {
    db,
    async listSurveys() {
      const store = await db.selectFrom('store').select('generation').executeTakeFirst();
      noticeGeneration(store?.generation ?? null);
      return db
        .selectFrom('surveys')
        .select(['id', 'created_at as createdAt', 'revision'])
        .orderBy('created_at', 'desc')
        .orderBy('id')
        .execute();
    },
    ...createViewRows(db),
    findSurvey,
    async saveSurvey(record, extract, run) {
      const written = await rows.write(record, hasBlob);
      const { id, createdAt, revision } = record;
      const isDone = await commit(async (trx) => {
        await lockStore(trx);
        if (run !== undefined) await forgetRun(trx, run);
        const added = await trx
          .insertInto('surveys')
          .values({ id, created_at: createdAt, revision, head_revision: revision, head: written.head })
          .onConflict((conflict) => conflict.column('id').doNothing())
          .executeTakeFirst();
        if (added.numInsertedOrUpdatedRows !== 1n) throw new Overtaken();
        await addRevision(trx, id, revision, written.head);
        await addBlobs(trx, id, written, [{ id: record.extractId, bytes: extract }]);
        await dropUnused(trx);
        return {
          surveyId: id,
          revision,
          ...(run === undefined ? {} : { job: { id: run.jobId, now: 'gone' } }),
        };
      });
      if (isDone) last.set(id, record);
      return isDone;
    },
    async swapSurvey(baseRevision, record, { extract, schemes } = {}) {
      const written = await rows.write(record, hasBlob);
      const { id, revision } = record;
      const isDone = await commit(async (trx) => {
        await lockStore(trx);
        await swapHead(trx, id, baseRevision, { revision, head: written.head });
        await addRevision(trx, id, revision, written.head);
        const { candidate } = record;
        const brought =
          extract === undefined || candidate === undefined
            ? []
            : [{ id: candidate.extractId, bytes: extract }];
        await addBlobs(trx, id, written, brought);
        await dropUnused(trx);
        if (schemes !== undefined) await replaceSchemes(trx, id, revision, schemes);
        return { surveyId: id, revision };
      });
      if (isDone) last.set(id, record);
      return isDone;
    },
    async removeSurvey(id) {
      last.delete(id);
      // Which of them belong to the survey is not worth to be known.
      read.clear();
      return commit(async (trx) => {
        await lockStore(trx);
        const { numDeletedRows } = await trx.deleteFrom('surveys').where('id', '=', id).executeTakeFirst();
        if (numDeletedRows === 0n) throw new Overtaken();
        await dropUnused(trx);
        return { surveyId: id };
      });
    },
    findExtract: (id) => readBlob(db, id),
    async findScheme(surveyId, complexId) {
      const [scheme] = await readSchemes(db, read, surveyId, complexId);
      return scheme;
    },
    listSchemes: (surveyId) => readSchemes(db, read, surveyId),
    saveScheme: (surveyId, base, scheme) =>
      commit(async (trx) => {
        const { complexId } = scheme;
        const revision = await stepSurvey(trx, surveyId, base.survey);
        const kept = await findKept(trx, surveyId, complexId);
        if ((kept?.revision ?? 0) !== base.scheme) throw new Overtaken();
        await addRevision(trx, surveyId, revision, null);
        await writeScheme(trx, surveyId, revision, scheme, kept);
        return { surveyId, revision, scheme: { complexId, revision: scheme.revision } };
      }),
    listRevisions: (surveyId, page) => readRevisions(db, surveyId, page),
    async findAt(surveyId, revision) {
      const row = await readSurveyAt(db, surveyId, revision);
      if (row === undefined) return undefined;
      const { candidate: _, ...record } = await rows.read(row, findBlob, last.get(surveyId));
      return { record, schemes: await readSchemesAt(db, surveyId, revision) };
    },
    jobs: makeJobs(commit),
    onReplaced(listener) {
      listeners.add(listener);
    },
    onChange: bus.listen,
    close,
  };
}

/** One at a time from here to the end of the transaction, among all servers: blobs belong to several surveys. */
async function lockStore(trx: Transaction<Tables>): Promise<void> {
  await trx
    .updateTable('store')
    .set((part) => ({ writes: part('writes', '+', 1) }))
    .execute();
}

/** Compare and swap of a survey itself. */
async function swapHead(
  trx: Transaction<Tables>,
  id: string,
  baseRevision: number,
  { revision, head }: { readonly revision: number; readonly head: string },
): Promise<void> {
  const { numUpdatedRows } = await trx
    .updateTable('surveys')
    .set({ revision, head_revision: revision, head })
    .where('id', '=', id)
    .where('revision', '=', baseRevision)
    .executeTakeFirst();
  if (numUpdatedRows === 0n) throw new Overtaken();
}

/** The next revision of a survey whose head has not changed since `baseRevision`; whoever is next waits for it. */
async function stepSurvey(trx: Transaction<Tables>, id: string, baseRevision: number): Promise<number> {
  const stepped = await trx
    .updateTable('surveys')
    .set((part) => ({ revision: part('revision', '+', 1) }))
    .where('id', '=', id)
    .where('head_revision', '<=', baseRevision)
    .returning('revision')
    .executeTakeFirst();
  if (stepped === undefined) throw new Overtaken();
  return stepped.revision;
}

async function addBlobs(
  trx: Transaction<Tables>,
  surveyId: string,
  { own, candidate, packed }: WrittenSurvey,
  brought: WrittenSurvey['packed'],
): Promise<void> {
  for (const { id, bytes } of [...packed, ...brought]) {
    await trx
      .insertInto('blobs')
      .values({ id, bytes })
      .onConflict((conflict) => conflict.column('id').doNothing())
      .execute();
  }
  // An extract that waited and was not adopted is no part of the survey's history.
  await trx.deleteFrom('survey_blobs').where('survey_id', '=', surveyId).where('candidate', '=', 1).execute();
  const named = [
    ...own.map((id) => ({ survey_id: surveyId, blob_id: id, candidate: 0 })),
    ...candidate.map((id) => ({ survey_id: surveyId, blob_id: id, candidate: 1 })),
  ];
  await trx
    .insertInto('survey_blobs')
    .values(named)
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

async function dropUnused(trx: Transaction<Tables>): Promise<void> {
  await trx
    .deleteFrom('blobs')
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('survey_blobs').select('blob_id').whereRef('survey_blobs.blob_id', '=', 'blobs.id'),
        ),
      ),
    )
    .execute();
}

async function readBlob(db: Kysely<Tables>, id: string): Promise<Uint8Array | undefined> {
  const row = await db.selectFrom('blobs').select('bytes').where('id', '=', id).executeTakeFirst();
  if (row === undefined) return undefined;
  // One driver answers with an ArrayBuffer, the other with a Buffer.
  const bytes: Uint8Array | ArrayBuffer = row.bytes;
  return bytes instanceof ArrayBuffer
    ? new Uint8Array(bytes)
    : new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
