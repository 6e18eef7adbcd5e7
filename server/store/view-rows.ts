import type { Kysely } from 'kysely';
import type { Store } from './store.ts';
import type { Tables } from './tables.ts';

/** Texts that are kept about surveys to spare work, one for each. */
export function createViewRows(db: Kysely<Tables>): Pick<Store, 'findView' | 'keepView'> {
  return {
    async findView({ id, createdAt, revision }, edition) {
      const row = await db
        .selectFrom('survey_views')
        .innerJoin('surveys', 'surveys.id', 'survey_views.survey_id')
        .select('survey_views.body')
        .where('survey_id', '=', id)
        .where('surveys.created_at', '=', createdAt)
        .where('survey_views.revision', '=', revision)
        .where('edition', '=', edition)
        .executeTakeFirst();
      return row?.body;
    },
    async keepView({ id, createdAt, revision }, edition, body) {
      await db
        .insertInto('survey_views')
        .columns(['survey_id', 'revision', 'edition', 'body'])
        .expression((part) =>
          part
            .selectFrom('surveys')
            .select(({ val }) => [
              'id',
              val(revision).as('revision'),
              val(edition).as('edition'),
              val(body).as('body'),
            ])
            .where('id', '=', id)
            .where('created_at', '=', createdAt),
        )
        .onConflict((conflict) => conflict.column('survey_id').doUpdateSet({ revision, edition, body }))
        .execute();
    },
  };
}
