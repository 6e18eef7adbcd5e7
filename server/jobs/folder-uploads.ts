import { randomUUID } from 'node:crypto';
import { copyFile, mkdir, readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Uploads } from './uploads.ts';

/** Uploads as files in `folder`, where the server that has them is the one that reads them. */
export function createFolderUploads(folder: string): Uploads {
  return {
    async keep(path) {
      const id = randomUUID();
      await mkdir(folder, { recursive: true, mode: 0o700 });
      await move(path, join(folder, id));
      return id;
    },
    read: (id, work) => work(join(folder, id)),
    remove: (id) => rm(join(folder, id), { force: true }),
    async removeOthers(named) {
      const kept = new Set(named);
      const names = await readdir(folder).catch(() => []);
      for (const name of names) if (!kept.has(name)) await rm(join(folder, name), { force: true });
    },
  };
}

async function move(from: string, to: string): Promise<void> {
  try {
    await rename(from, to);
  } catch (error) {
    // The folder of the data may be on another disk than the temporary one.
    if ((error as NodeJS.ErrnoException).code !== 'EXDEV') throw error;
    try {
      await copyFile(from, to);
    } catch (full) {
      await rm(to, { force: true });
      throw full;
    } finally {
      await rm(from, { force: true });
    }
  }
}
