import { createHash, randomUUID } from 'node:crypto';
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';

/** An answer as it came, with the server that gave it and the time it came. */
export type KeptAnswer = {
  readonly bytes: Uint8Array;
  readonly server: string;
  readonly fetchedAtMs: number;
  readonly dataTimestamp?: string | undefined;
};

export type AnswerCache = {
  /** The answer kept for a query, however old; undefined if there is none or it is damaged. */
  find(query: string): Promise<KeptAnswer | undefined>;
  /** Keeps an answer in place of an earlier one. Throws what the file system throws. */
  keep(query: string, answer: KeptAnswer): Promise<void>;
};

const MEMORY_LIMIT_BYTES = 64 * 1024 * 1024;
const FOLDER_LIMIT_BYTES = 1024 * 1024 * 1024;

/** Keeps answers in memory, at most 64 MiB; the oldest go first. */
export function createMemoryCache(limitBytes: number = MEMORY_LIMIT_BYTES): AnswerCache {
  const kept = new Map<string, KeptAnswer>();
  return {
    find: async (query) => kept.get(hashOf(query)),
    keep: async (query, answer) => {
      kept.delete(hashOf(query));
      kept.set(hashOf(query), answer);
      let total = [...kept.values()].reduce((sum, one) => sum + one.bytes.byteLength, 0);
      for (const [key, oldest] of kept) {
        if (total <= limitBytes) return;
        kept.delete(key);
        total -= oldest.bytes.byteLength;
      }
    },
  };
}

const headSchema = z.object({
  server: z.string(),
  fetchedAtMs: z.number(),
  dataTimestamp: z.string().optional(),
  byteCount: z.number(),
});

/**
 * Keeps answers in a folder (made when needed), at most 1 GiB; the oldest go first. One file each: a line that
 * says whence and when, then the answer as it came. A file appears whole or not at all.
 */
export function createFolderCache(folder: string, limitBytes: number = FOLDER_LIMIT_BYTES): AnswerCache {
  return {
    find: async (query) => {
      const file = await readFile(join(folder, `${hashOf(query)}.answer`)).catch(() => undefined);
      return file === undefined ? undefined : readKept(file);
    },
    keep: async (query, { bytes, ...source }) => {
      await mkdir(folder, { recursive: true });
      const path = join(folder, `${hashOf(query)}.answer`);
      const unfinished = `${path}.${randomUUID()}`;
      const head = `${JSON.stringify({ ...source, byteCount: bytes.byteLength })}\n`;
      try {
        await writeFile(unfinished, Buffer.concat([Buffer.from(head), bytes]));
        await rename(unfinished, path);
      } catch (error) {
        await rm(unfinished, { force: true });
        throw error;
      }
      await dropOldest(folder, limitBytes);
    },
  };
}

function hashOf(query: string): string {
  return createHash('sha256').update(query).digest('hex');
}

function readKept(file: Buffer): KeptAnswer | undefined {
  const lineEnd = file.indexOf('\n');
  try {
    const { byteCount, ...source } = headSchema.parse(JSON.parse(file.subarray(0, lineEnd).toString()));
    const bytes = file.subarray(lineEnd + 1);
    return bytes.byteLength === byteCount ? { bytes, ...source } : undefined;
  } catch {
    return undefined;
  }
}

/** Counts unfinished files too, so that those left by a killed process go in their turn. */
async function dropOldest(folder: string, limitBytes: number): Promise<void> {
  const names = (await readdir(folder)).filter((name) => /^[0-9a-f]{64}\.answer/.test(name));
  const files = await Promise.all(
    names.map(async (name) => {
      const path = join(folder, name);
      const { size, mtimeMs } = await stat(path).catch(() => ({ size: 0, mtimeMs: 0 }));
      return { path, size, mtimeMs };
    }),
  );
  let total = files.reduce((sum, file) => sum + file.size, 0);
  for (const { path, size } of files.sort((a, b) => a.mtimeMs - b.mtimeMs)) {
    if (total <= limitBytes) return;
    await rm(path, { force: true });
    total -= size;
  }
}
