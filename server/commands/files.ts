import { readFileSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { z } from 'zod';
import type { GroupingOverride } from '../../shared/network/group-links.ts';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { groupingOverridesSchema, type RulePatch, rulePatchSchema } from '../../shared/wire/survey.ts';
import { readExtract, readExtractFile } from '../extracts/read-extract.ts';
import { tell } from './tell.ts';

/** Reads an extract from a file or, named `-`, from standard input. */
export async function readInput(input: string): Promise<Result<OsmExtract>> {
  const name = input === '-' ? 'standard input' : input;
  const onProgress = (bytes: number) => tell(`reading ${name}: ${(bytes / 1e6).toFixed(1)} MB`);
  return input === '-'
    ? readExtract(process.stdin, { name, onProgress })
    : readExtractFile(input, { name, onProgress });
}

/** Writes a command's files by name into a folder, which is made where it is missing. */
export async function writeFiles(folder: string, files: ReadonlyMap<string, string>): Promise<Result<null>> {
  try {
    await mkdir(folder, { recursive: true });
    for (const [name, text] of files) {
      tell(`writing ${name}`);
      await writeFile(join(folder, name), text);
    }
    return done(null);
  } catch (error) {
    return refused(refusal('file-not-writable', { name: folder, reason: reasonOf(error) }));
  }
}

/** Writes a command's one file. */
export function writeOne(path: string, text: string): Promise<Result<null>> {
  return writeFiles(dirname(path), new Map([[basename(path), text]]));
}

/** What a JSON file says about rules; nothing where none is named. */
export function readRulePatch(file: string | undefined): Result<RulePatch> {
  const read = readJson(file, rulePatchSchema);
  return read.ok ? done(read.value ?? {}) : read;
}

/** What a JSON file says about which bores are one tunnel; nothing where none is named. */
export function readGrouping(file: string | undefined): Result<readonly GroupingOverride[]> {
  const read = readJson(file, groupingOverridesSchema);
  return read.ok ? done(read.value ?? []) : read;
}

/** Reads a JSON file against a schema; undefined where no file was named. */
function readJson<T>(file: string | undefined, schema: z.ZodType<T>): Result<T | undefined> {
  if (file === undefined) return done(undefined);
  let data: unknown;
  try {
    data = JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    return refused(refusal('input-not-readable', { name: file, reason: reasonOf(error) }));
  }
  const parsed = schema.safeParse(data);
  if (parsed.success) return done(parsed.data);
  const reason = parsed.error.issues
    .map((issue) => `${issue.path.join('.') || file}: ${issue.message}`)
    .join('; ');
  return refused(refusal('request-invalid', { reason }));
}

/** Why a file could not be read or written, in words. */
export function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT') return 'there is no such file';
  if (code === 'EACCES') return 'access is denied';
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'a file of that name is in the way';
  return error instanceof Error ? error.message : 'unknown';
}
