import type { TunnelNetwork } from '../../shared/network/network.ts';
import type { Finding } from '../../shared/outcome/finding.ts';
import type { Evidence } from '../../shared/ranking/evidence.ts';
import { type Blob, nameBytes, packRows, unpackRows } from './pack-rows.ts';
import type { SurveyRecord } from './store.ts';

type Candidate = NonNullable<SurveyRecord['candidate']>;

/** A survey without its large parts, which it names: `built` is network and findings. */
type Head = Omit<
  SurveyRecord,
  'id' | 'createdAt' | 'revision' | 'network' | 'findings' | 'contextGzip' | 'evidence' | 'candidate'
> & {
  readonly built: string;
  readonly context: string;
  readonly evidence?: string;
  readonly candidate?: Omit<Candidate, 'contextGzip'> & { readonly context: string };
};

/** A survey as it is written: its row and the blobs it needs, its own and its candidate's. */
export type WrittenSurvey = {
  readonly head: string;
  readonly own: readonly string[];
  readonly candidate: readonly string[];
  /** Those of the blobs that the store has not. */
  readonly packed: readonly Blob[];
};

/** Turns surveys into rows and back. Remembers the names of large parts by their identity: packing takes long. */
export type SurveyRows = {
  write(record: SurveyRecord, hasBlob: (id: string) => Promise<boolean>): Promise<WrittenSurvey>;
  /** @param before the same survey as it was read last: parts that are the same stay the same objects. */
  read(
    row: {
      readonly id: string;
      readonly created_at: string;
      readonly revision: number;
      readonly head: string;
    },
    findBlob: (id: string) => Promise<Uint8Array>,
    before: SurveyRecord | undefined,
  ): Promise<SurveyRecord>;
};

/** Links and complexes in rows of so many. */
const PER_ROW = 500;

export function createSurveyRows(): SurveyRows {
  const names = new WeakMap<object, string>();

  return {
    async write({ id: _, createdAt: __, revision: ___, ...record }, hasBlob) {
      const packed: Blob[] = [];
      const nameOf = async (part: object, pack: () => Promise<Blob>): Promise<string> => {
        const known = names.get(part);
        if (known !== undefined && (await hasBlob(known))) return known;
        const blob = await pack();
        names.set(part, blob.id);
        packed.push(blob);
        return blob.id;
      };
      const { network, findings, contextGzip, evidence, candidate, ...rest } = record;
      const built = await nameOf(network, () => packRows(listBuilt(network, findings)));
      const context = await nameOf(contextGzip, async () => nameBytes(contextGzip));
      const hasEvidence = Object.keys(evidence).length > 0;
      const brought = hasEvidence ? await nameOf(evidence, () => packRows([evidence])) : undefined;
      const newer =
        candidate && (await nameOf(candidate.contextGzip, async () => nameBytes(candidate.contextGzip)));
      const head: Head = {
        ...rest,
        built,
        context,
        ...(brought === undefined ? {} : { evidence: brought }),
        ...(candidate === undefined || newer === undefined
          ? {}
          : { candidate: { extractId: candidate.extractId, source: candidate.source, context: newer } }),
      };
      return {
        head: JSON.stringify(head),
        own: [record.extractId, built, context, ...(brought === undefined ? [] : [brought])],
        candidate: candidate === undefined || newer === undefined ? [] : [candidate.extractId, newer],
        packed,
      };
    },

    async read(row, findBlob, before) {
      const { built, context, evidence, candidate, ...rest } = JSON.parse(row.head) as Head;
      const known = <T extends object>(part: T | undefined, name: string): T | undefined =>
        part !== undefined && names.get(part) === name ? part : undefined;
      const named = <T extends object>(part: T, name: string): T => {
        names.set(part, name);
        return part;
      };
      const network = known(before?.network, built);
      const base =
        before !== undefined && network !== undefined
          ? { network, findings: before.findings }
          : readBuilt(await unpackRows(await findBlob(built)));
      const bytes = async (name: string, kept: Uint8Array | undefined) =>
        known(kept, name) ?? named(await findBlob(name), name);
      return {
        ...rest,
        id: row.id,
        createdAt: row.created_at,
        revision: row.revision,
        network: named(base.network, built),
        findings: base.findings,
        contextGzip: await bytes(context, before?.contextGzip),
        evidence: evidence === undefined ? {} : await readEvidence(evidence),
        ...(candidate === undefined ? {} : { candidate: await readCandidate(candidate) }),
      };

      async function readEvidence(name: string): Promise<Evidence> {
        const kept = known(before?.evidence, name);
        if (kept !== undefined) return kept;
        const [read] = await unpackRows(await findBlob(name));
        return named(read as Evidence, name);
      }

      async function readCandidate({
        context: name,
        ...other
      }: NonNullable<Head['candidate']>): Promise<Candidate> {
        return { ...other, contextGzip: await bytes(name, before?.candidate?.contextGzip) };
      }
    },
  };
}

type Built = { readonly network: TunnelNetwork; readonly findings: readonly Finding[] };

function* listBuilt({ links, complexes, ...rest }: TunnelNetwork, findings: readonly Finding[]) {
  yield rest;
  for (const [part, items] of Object.entries({ links, complexes, findings })) {
    for (let i = 0; i < items.length; i += PER_ROW) yield [part, items.slice(i, i + PER_ROW)];
  }
}

function readBuilt([rest, ...rows]: readonly unknown[]): Built {
  const parts = { links: [], complexes: [], findings: [] } as Record<string, unknown[]>;
  for (const [part, items] of rows as readonly (readonly [string, unknown[]])[]) {
    for (const item of items) parts[part]?.push(item);
  }
  const { findings, ...network } = parts;
  return { network: { ...(rest as object), ...network }, findings } as unknown as Built;
}
