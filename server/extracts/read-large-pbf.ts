import { closeSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import type { OsmExtract, OsmNode } from '../../shared/osm/extract.ts';
import { findFirstAbove, type IdRanges } from '../../shared/osm/id-ranges.ts';
import { joinScans, type LargeFile, makeLargeFile } from '../../shared/osm/large-file.ts';
import { DEFAULT_LIMITS } from '../../shared/osm/make-collector.ts';
import { unpackBlob } from '../../shared/osm/pbf-blobs.ts';
import { fromPbfHeader, type PbfHeader } from '../../shared/osm/pbf-header.ts';
import { type Positions, UNSET } from '../../shared/osm/pbf-pick-nodes.ts';
import { type BlockScan, NODES, RELATIONS, WAYS } from '../../shared/osm/pbf-scan.ts';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { withPlace } from '../../shared/osm/with-place.ts';
import { inflate } from './inflate.ts';
import { makePbfRunner } from './pbf-here.ts';
import type { BlobTask, PbfRunner } from './pbf-runner.ts';
import { startPbfThreads } from './pbf-threads.ts';
import { readAt } from './read-at.ts';
import { type BlobPlace, readBlobIndex } from './read-blob-index.ts';

/** More threads than this only cost memory: then the disk and the joining take the time. */
const MAX_THREADS = 3;
/**
 * Each thread has to start and to compile the hot loops for itself, which costs what reading some 30 MB costs. Up to
 * so many bytes the file is read in the thread that asks; beyond, more threads shorten the wait by far more.
 */
const BYTES_PER_THREAD = 200e6;
/** What is put aside of the ways, so that their blobs are unpacked once; of what is beyond, they are unpacked again. */
const ASIDE_BYTES = 64 << 20;

export type LargePbfOptions = {
  readonly signal?: AbortSignal;
  onProgress?(bytesRead: number): void;
  /** How many bytes of ways are kept in memory from the first pass to the second (default 64 MB). */
  readonly asideBytes?: number;
  /** How many threads read; 1 is the one that asks (default one for each 200 MB, at most three). */
  readonly threads?: number;
};

/**
 * Reads what lies near road tunnels (tunnel-cells.ts) out of a large, sorted PBF file, in passes: where its nodes
 * and tunnels are; the ways near them; the relations of those; the positions of what was kept. Memory grows with
 * the tunnels and, by a few bytes for a hundred of the file, with the land. Closes `file`. Throws UnusualPbf for a file
 * that only the one-pass decoder reads, and RefusalError as that does.
 */
export async function readLargePbf(
  file: number,
  size: number,
  { signal, onProgress, asideBytes = ASIDE_BYTES, threads = countThreads(size) }: LargePbfOptions,
): Promise<OsmExtract> {
  let runner: PbfRunner | undefined;
  try {
    const all = await readBlobIndex(file, size, signal);
    const header = readHeader(file, all);
    const blobs = all.filter(({ type }) => type === 'OSMData');
    runner = threads === 1 ? makePbfRunner(file, signal) : startPbfThreads(file, threads, signal);
    return await readInPasses(runner, header, blobs, asideBytes, makeMeter(size, blobs, onProgress));
  } finally {
    await runner?.close();
    closeSync(file);
  }
}

function countThreads(size: number): number {
  return Math.min(Math.ceil(size / BYTES_PER_THREAD), MAX_THREADS, availableParallelism());
}

async function readInPasses(
  runner: PbfRunner,
  { bbox, ...source }: PbfHeader,
  blobs: readonly BlobPlace[],
  asideBytes: number,
  meter: Meter,
): Promise<OsmExtract> {
  const kept = makeLargeFile(DEFAULT_LIMITS);
  const { near, blocks } = await readWays(runner, blobs, asideBytes, kept, meter);
  const select = (wanted: (block: Block) => boolean) => blocks.filter(wanted).map(({ blob }) => blob);
  await runner.run(
    { kind: 'relations', ways: kept.listWayIds() },
    select(({ first }) => !Number.isNaN(first[RELATIONS])),
    kept.addRelations,
    meter.second,
  );
  const positions = makePositions(kept.listNodeIds());
  const tagged: OsmNode[] = [];
  await runner.run(
    { kind: 'nodes', near, positions },
    select((block) => mayNeedNodes(block, near, positions.ids)),
    (nodes) => tagged.push(...nodes),
    meter.second,
  );
  meter.end();
  return kept.finish({ format: 'osm-pbf', ...source }, bbox, positions, tagged);
}

/** What is asked again of a block after the first pass. */
type Block = Pick<BlockScan, 'first' | 'last' | 'mayTagNodes'> & { readonly blob: BlobPlace };

/** The first two passes: what they need of each other is the larger part of the memory, and is given up here. */
async function readWays(
  runner: PbfRunner,
  blobs: readonly BlobPlace[],
  asideBytes: number,
  kept: LargeFile,
  meter: Meter,
): Promise<{ near: IdRanges; blocks: readonly Block[] }> {
  const scans: BlockScan[] = [];
  const room = new Int32Array(new SharedArrayBuffer(4)).fill(asideBytes);
  await runner.run(
    { kind: 'scan', room },
    blobs,
    (scan, index) => {
      scans[index] = scan;
    },
    meter.first,
  );
  const { near, outlines } = joinScans(scans);
  const tasks = blobs.flatMap((blob, index): BlobTask[] => {
    const { first, mayKeepWays, ways } = scans[index] as BlockScan;
    const isWanted = !Number.isNaN(first[WAYS]) && (mayKeepWays || outlines.length > 0);
    return isWanted ? [{ ...blob, unpacked: ways }] : [];
  });
  const blocks = scans.map(({ first, last, mayTagNodes }, index) => ({
    blob: blobs[index] as BlobPlace,
    first,
    last,
    mayTagNodes,
  }));
  scans.length = 0;
  await runner.run({ kind: 'ways', near, outlines }, tasks, kept.addWays, meter.second);
  return { near, blocks };
}

/** Whether a node of the block may have tags that are kept, or is one of `ids` (ascending) whose place is needed. */
function mayNeedNodes({ first, last, mayTagNodes }: Block, near: IdRanges, ids: Float64Array): boolean {
  const from = first[NODES] as number;
  const to = last[NODES] as number;
  if (Number.isNaN(from)) return false;
  const isNear = (near.ends[findFirstAbove(near.starts, to) - 1] ?? Number.NEGATIVE_INFINITY) > from;
  return (mayTagNodes && isNear) || findFirstAbove(ids, to) > findFirstAbove(ids, from - 1);
}

function readHeader(file: number, blobs: readonly BlobPlace[]): PbfHeader {
  let header: PbfHeader | undefined;
  for (const { number, type, offset, size } of blobs) {
    if (header === undefined && type === 'OSMData') throw new UnusualPbf();
    if (type !== 'OSMHeader') continue;
    try {
      const packed = new Uint8Array(size);
      readAt(file, packed, offset);
      header = fromPbfHeader(unpackBlob(packed, inflate));
    } catch (error) {
      throw withPlace(error, `blob ${number}`);
    }
  }
  if (header === undefined) throw new UnusualPbf();
  return header;
}

/** Arrays that all threads can write to. */
function makePositions(ids: Float64Array): Positions {
  const shared = new Float64Array(new SharedArrayBuffer(8 * ids.length));
  shared.set(ids);
  const lons = new Int32Array(new SharedArrayBuffer(4 * ids.length)).fill(UNSET);
  return { ids: shared, lons, lats: new Int32Array(new SharedArrayBuffer(4 * ids.length)) };
}

type Meter = { first(bytes: number): void; second(bytes: number): void; end(): void };

/** Progress in bytes of the file: half for the first pass over all, half for the others, which may read less. */
function makeMeter(size: number, blobs: readonly BlobPlace[], onProgress?: (bytes: number) => void): Meter {
  const all = Math.max(
    1,
    blobs.reduce((sum, blob) => sum + blob.size, 0),
  );
  let read = 0;
  const add = (bytes: number) => {
    read += bytes;
    onProgress?.(Math.min(size - 1, Math.floor((size * read) / (2 * all))));
  };
  return { first: add, second: add, end: () => onProgress?.(size) };
}
