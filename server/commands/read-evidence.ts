import { open } from 'node:fs/promises';
import { type RefusalCode, refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { decodeText } from '../../shared/ranking/decode-text.ts';
import type { Evidence, MatchedEvidence } from '../../shared/ranking/evidence.ts';
import { readExisting } from '../../shared/ranking/read-existing.ts';
import { readTraffic } from '../../shared/ranking/read-traffic.ts';
import { reasonOf } from './files.ts';

/** The largest file of counts or beacons that is read, bytes. */
const MAX_BYTES = 200e6;

/** Reads the files that are named: counts of traffic, beacons that are there already. */
export async function readEvidence(files: {
  readonly traffic?: string;
  readonly existing?: string;
}): Promise<Result<Evidence>> {
  const traffic = await readWith(files.traffic, readTraffic);
  if (!traffic.ok) return traffic;
  const existing = await readWith(files.existing, readExisting);
  if (!existing.ok) return existing;
  return done({
    ...(traffic.value === undefined ? {} : { traffic: traffic.value }),
    ...(existing.value === undefined ? {} : { existing: existing.value }),
  });
}

/** One line for each file: how many of its rows found their place. */
export function describeMatches(
  { traffic, existing }: Evidence,
  matched: MatchedEvidence,
): readonly string[] {
  const line = (what: string, matchedCount: number, notUsed: number, readCount: number) =>
    `${what}: ${matchedCount} of ${readCount + notUsed} rows matched; the others are in import-report.json`;
  const count = (notes: readonly { readonly isUsed: boolean }[]) =>
    notes.filter(({ isUsed }) => !isUsed).length;
  return [
    ...(traffic === undefined
      ? []
      : [line('traffic', matched.traffic.matchedCount, count(traffic.notes), traffic.rows.length)]),
    ...(existing === undefined
      ? []
      : [
          line(
            'existing beacons',
            matched.existing.matchedCount,
            count(existing.notes),
            existing.items.length,
          ),
        ]),
  ];
}

async function readWith<T>(
  file: string | undefined,
  read: (text: string, name: string) => Result<T>,
): Promise<Result<T | undefined>> {
  if (file === undefined) return done(undefined);
  let bytes: Uint8Array;
  try {
    const handle = await open(file);
    try {
      const { size } = await handle.stat();
      if (size > MAX_BYTES) return refuse('table-too-large', file, { limit: '200 MB' });
      bytes = await handle.readFile();
    } finally {
      await handle.close();
    }
  } catch (error) {
    return refuse('input-not-readable', file, { reason: reasonOf(error) });
  }
  return read(decodeText(bytes), file);
}

function refuse(code: RefusalCode, name: string, context: Readonly<Record<string, string>>) {
  return refused(refusal(code, { name, ...context }));
}
