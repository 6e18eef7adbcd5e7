import { closeSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import type { OsmExtract, OsmNode } from '../../shared/osm/extract.ts';
import { findFirstAbove } from '../../shared/osm/id-ranges.ts';
import { joinScans, makeLargeFile } from '../../shared/osm/large-file.ts';
import { DEFAULT_LIMITS } from '../../shared/osm/make-collector.ts';
import { unpackBlob } from '../../shared/osm/pbf-blobs.ts';
import { fromPbfHeader, type PbfHeader } from '../../shared/osm/pbf-header.ts';
import { type Positions, UNSET } from '../../shared/osm/pbf-pick-nodes.ts';
import { type BlockScan, NODES, RELATIONS, WAYS } from '../../shared/osm/pbf-scan.ts';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { withPlace } from '../../shared/osm/with-place.ts';
import { inflate } from './inflate.ts';
import { type PbfThreads, startPbfThreads } from './pbf-threads.ts';
import { readAt } from './read-at.ts';
import { type BlobPlace, readBlobIndex } from './read-blob-index.ts';

/** More threads than this only cost memory: then the disk and the joining take the time. */
const MAX_THREADS = 3;
/** Each thread compiles the hot loops for itself, which takes as long as it takes to read about so many bytes. */
const BYTES_PER_THREAD = 200e6;
const NOTHING = new Float64Array(0);

export type LargePbfOptions = { readonly signal?: AbortSignal; onProgress?(bytesRead: number): void };

/**
 * Reads what lies near road tunnels (tunnel-cells.ts) out of a large, sorted PBF file, in passes: where its nodes
 * and tunnels are; the ways near them; the relations of those; the positions of what was kept. Memory grows with
 * the tunnels and, by a few bytes for a hundred of the file, with the land. Closes `file`. Throws UnusualPbf for a file
 * that only the one-pass decoder reads, and RefusalError as that does.
 */
export async function readLargePbf(
  file: number,
  size: number,
  { signal, onProgress }: LargePbfOptions,
): Promise<OsmExtract> {
  let threads: PbfThreads | undefined;
  try {
    const all = await readBlobIndex(file, size, signal);
    const header = readHeader(file, all);
    const blobs = all.filter(({ type }) => type === 'OSMData');
    const count = Math.min(Math.ceil(size / BYTES_PER_THREAD), MAX_THREADS, availableParallelism());
    threads = startPbfThreads(file, count, signal);
    return await readInPasses(threads, header, blobs, makeMeter(size, blobs, onProgress));
  } finally {
    await threads?.close();
    closeSync(file);
  }
}

async function readInPasses(
  threads: PbfThreads,
  { bbox, ...source }: PbfHeader,
  blobs: readonly BlobPlace[],
  meter: Meter,
): Promise<OsmExtract> {
  const scans: BlockScan[] = [];
  await threads.run(
    { kind: 'scan' },
    blobs,
    (scan, index) => {
      scans[index] = scan;
    },
    meter.first,
  );
  const { near, outlines } = joinScans(scans);
  // Where the nodes are is not asked again; it is the larger part of what the first pass told.
  scans.forEach((scan, index) => {
    scans[index] = { ...scan, runIds: NOTHING, runCells: new Int32Array(0), tunnelNodes: NOTHING };
  });
  const holds = (kind: number) => (scan: BlockScan) => !Number.isNaN(scan.first[kind]);
  const select = (wanted: (scan: BlockScan) => boolean) =>
    blobs.filter((_, index) => wanted(scans[index] as BlockScan));
  const kept = makeLargeFile(DEFAULT_LIMITS);
  const isWays = (scan: BlockScan) => holds(WAYS)(scan) && (scan.mayKeepWays || outlines.length > 0);
  await threads.run({ kind: 'ways', near, outlines }, select(isWays), kept.addWays, meter.second);
  await threads.run(
    { kind: 'relations', ways: kept.listWayIds() },
    select(holds(RELATIONS)),
    kept.addRelations,
    meter.second,
  );
  const positions = makePositions(kept.listNodeIds());
  const needs = (from: number, to: number, starts: Float64Array) =>
    findFirstAbove(starts, to) > findFirstAbove(starts, from - 1);
  const isNodes = (scan: BlockScan) => {
    const [from, to] = [scan.first[NODES] as number, scan.last[NODES] as number];
    if (Number.isNaN(from)) return false;
    const isNear = (near.ends[findFirstAbove(near.starts, to) - 1] ?? -Infinity) > from;
    return (scan.mayTagNodes && isNear) || needs(from, to, positions.ids);
  };
  const tagged: OsmNode[] = [];
  await threads.run(
    { kind: 'nodes', near, positions },
    select(isNodes),
    (nodes) => tagged.push(...nodes),
    meter.second,
  );
  meter.end();
  return kept.finish({ format: 'osm-pbf', ...source }, bbox, positions, tagged);
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
