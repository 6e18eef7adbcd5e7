import { randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Kysely } from 'kysely';
import type { Tables } from '../store/tables.ts';
import type { Uploads } from './uploads.ts';

const CHUNK_BYTES = 2 ** 20;

/** A file that no job names may still be on its way in; after so long it is left over. */
const LEFT_OVER_MS = 6 * 3_600_000;

/** Uploads as rows of 1 MiB, for servers and workers that share only a database; never whole in memory. */
export function createChunkUploads(db: Kysely<Tables>, now: () => Date): Uploads {
  const remove = async (id: string) => {
    await db.deleteFrom('upload_chunks').where('upload_id', '=', id).execute();
  };
  return {
    async keep(path) {
      const id = randomUUID();
      let seq = 0;
      try {
        for await (const bytes of createReadStream(path, { highWaterMark: CHUNK_BYTES })) {
          const at = now().toISOString();
          await db.insertInto('upload_chunks').values({ upload_id: id, seq, at, bytes }).execute();
          seq += 1;
        }
      } catch (error) {
        await remove(id).catch(() => {});
        throw error;
      } finally {
        await rm(path, { force: true });
      }
      return id;
    },

    async read(id, work) {
      const path = join(tmpdir(), `boremark-${randomUUID()}.upload`);
      try {
        await writeChunks(db, id, path);
        return await work(path);
      } finally {
        await rm(path, { force: true });
      }
    },

    remove,

    async removeOthers(named) {
      const before = new Date(now().getTime() - LEFT_OVER_MS).toISOString();
      let left = db.deleteFrom('upload_chunks').where('at', '<', before);
      if (named.length > 0) left = left.where('upload_id', 'not in', named);
      await left.execute();
    },
  };
}

async function writeChunks(db: Kysely<Tables>, id: string, path: string): Promise<void> {
  const file = await open(path, 'wx', 0o600);
  try {
    for (let seq = 0; ; seq += 1) {
      const row = await db
        .selectFrom('upload_chunks')
        .select('bytes')
        .where('upload_id', '=', id)
        .where('seq', '=', seq)
        .executeTakeFirst();
      if (row === undefined) return;
      // One driver answers with an ArrayBuffer.
      await file.writeFile(new Uint8Array(row.bytes));
    }
  } finally {
    await file.close();
  }
}
