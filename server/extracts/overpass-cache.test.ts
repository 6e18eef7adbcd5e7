import { mkdtemp, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createFolderCache, createMemoryCache, type KeptAnswer } from './overpass-cache.ts';
import { createOverpassClient } from './overpass-client.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'answers-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const answerOf = (text: string, fetchedAtMs = 1000): KeptAnswer => ({
  bytes: Buffer.from(text),
  server: 'https://first.example/api',
  fetchedAtMs,
  dataTimestamp: '2026-11-25T10:37:00Z',
});
const textOf = (kept: KeptAnswer | undefined) => kept && Buffer.from(kept.bytes).toString();

describe.each([
  ['in memory', (limit?: number) => createMemoryCache(limit)],
  ['in a folder', (limit?: number) => createFolderCache(join(folder, 'new'), limit)],
])('answers %s', (_, create) => {
  it('come back as they were kept, line breaks and all', async () => {
    const cache = create();
    await cache.keep('q', answerOf('{"a":\n"ü"}\n'));
    const kept = await cache.find('q');
    expect(textOf(kept)).toBe('{"a":\n"ü"}\n');
    expect(kept).toMatchObject({ ...answerOf(''), bytes: expect.anything() });
  });

  it('are found by their own question only, and the last one kept counts', async () => {
    const cache = create();
    await cache.keep('q', answerOf('old'));
    await cache.keep('q', answerOf('new'));
    expect(textOf(await cache.find('q'))).toBe('new');
    expect(await cache.find('q ')).toBeUndefined();
  });

  it('make room for newer ones', async () => {
    const cache = create(1000);
    await cache.keep('one', answerOf('1'.repeat(450)));
    await new Promise((resolve) => setTimeout(resolve, 15));
    await cache.keep('two', answerOf('2'.repeat(450)));
    await new Promise((resolve) => setTimeout(resolve, 15));
    await cache.keep('three', answerOf('3'.repeat(300)));
    expect(await cache.find('one')).toBeUndefined();
    expect(textOf(await cache.find('three'))).toHaveLength(300);
  });
});

describe('a folder of answers', () => {
  it('is read by the next process', async () => {
    await createFolderCache(folder).keep('q', answerOf('kept'));
    expect(textOf(await createFolderCache(folder).find('q'))).toBe('kept');
    expect(await readdir(folder)).toEqual([expect.stringMatching(/^[0-9a-f]{64}\.answer$/)]);
  });

  it.each([
    ['cut short', (file: Buffer) => file.subarray(0, file.byteLength - 1)],
    ['without its first line', (file: Buffer) => file.subarray(file.indexOf('\n') + 1)],
    ['emptied', () => Buffer.alloc(0)],
  ])('whose file was %s gives nothing', async (_, spoil) => {
    const cache = createFolderCache(folder);
    await cache.keep('q', answerOf('kept'));
    const path = join(folder, (await readdir(folder))[0] ?? '');
    await writeFile(path, spoil(await readFile(path)));
    expect(await cache.find('q')).toBeUndefined();
  });

  it('is cleared of what a killed process left, and of nothing else', async () => {
    const left = join(folder, `${'a'.repeat(64)}.answer.unfinished`);
    await writeFile(left, 'x'.repeat(900));
    await utimes(left, 1, 1);
    await writeFile(join(folder, 'notes.txt'), 'y'.repeat(900));
    await createFolderCache(folder, 1000).keep('q', answerOf('z'.repeat(300)));
    const names = (await readdir(folder)).sort();
    expect(names).toEqual([expect.stringMatching(/^[0-9a-f]{64}\.answer$/), 'notes.txt']);
  });

  it('serves the client over a restart, and its loss costs no answer', async () => {
    const body = '{"elements": []}';
    let asked = 0;
    const options = {
      urls: ['https://first.example/api'],
      userAgent: 'test',
      timeoutMs: 1000,
      maxBytes: 1000,
      retries: 0,
      now: () => 5000,
      sleep: async () => {},
      fetch: async () => {
        asked += 1;
        return new Response(body, { headers: { 'Content-Type': 'application/json' } });
      },
    };
    const first = await createOverpassClient({ ...options, cacheFolder: folder }).ask('q');
    const second = await createOverpassClient({ ...options, cacheFolder: folder }).ask('q');
    expect([first.ok && first.value.fromCache, second.ok && second.value.fromCache]).toEqual([false, true]);
    expect(asked).toBe(1);

    const notAFolder = join(folder, 'file');
    await writeFile(notAFolder, '');
    const notes: string[] = [];
    const third = await createOverpassClient({ ...options, cacheFolder: notAFolder }).ask('q', {
      onProgress: ({ note }) => note !== undefined && notes.push(note),
    });
    expect(third.ok).toBe(true);
    expect(notes.join()).toContain('the answer could not be kept for later');
  });
});
