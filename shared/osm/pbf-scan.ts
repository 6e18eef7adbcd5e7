import { RefusalError } from '../outcome/refusal.ts';
import { HOUSE_KEY, NODE_KEY, ROOF_KEY, TYPE_KEY, WAY_KEY } from './block-strings.ts';
import { DeltaList } from './delta-list.ts';
import { DenseColumns } from './dense-columns.ts';
import { ElementFields } from './element-fields.ts';
import { isRoadUnderRoof, wantsMembers } from './keep.ts';
import { NumberList } from './number-list.ts';
import { type BlockFrame, makeFrameReader } from './pbf-frame.ts';
import { readMemberWays } from './read-member-ways.ts';
import { type Allocate, shrinkBlock } from './shrink-block.ts';
import { CELLS_PER_DEG, toCell, toColumn, toRow } from './tunnel-cells.ts';
import { UnusualPbf } from './unusual-pbf.ts';

/** The three kinds of elements in the order in which sorted files hold them. */
export const NODES = 0;
export const WAYS = 1;
export const RELATIONS = 2;

/** What the first pass over a large file learns from one block. */
export type BlockScan = {
  /** By kind: the first and the last id, which ascend; NaN where the block has none. */
  readonly first: readonly number[];
  readonly last: readonly number[];
  /** Nodes that follow each other in one cell: the first one's id, and the cell. */
  readonly runIds: Float64Array;
  readonly runCells: Int32Array;
  /** Nodes of road tunnels. */
  readonly tunnelNodes: Float64Array;
  /** Ways that bound areas which the map draws. */
  readonly outlines: Float64Array;
  /** Whether a node may have tags that are kept; whether a way may be kept. */
  readonly mayTagNodes: boolean;
  readonly mayKeepWays: boolean;
  /** The block again with only those ways that may be kept or bound an area, if it has ways and there was memory. */
  readonly ways: Uint8Array | undefined;
};

const MAX_ID = 2 ** 51;

/**
 * Makes the reader of the first pass: where the nodes are, which of them are a road tunnel's, which ways bound an
 * area; it puts the ways that may matter aside in memory from `allocate`. It throws UnusualPbf unless the ids of each
 * kind ascend, and refuses 'input-damaged' and 'input-coordinates'.
 */
export function makeScanner(allocate: Allocate): (bytes: Uint8Array) => BlockScan {
  const readFrame = makeFrameReader();
  const columns = new DenseColumns();
  const fields = new ElementFields();
  const refs = new DeltaList();
  const runs = new Runs();
  const tunnelNodes = new NumberList();
  const outlines = new NumberList();
  const kept = new NumberList();
  return (bytes) => {
    const frame = readFrame(bytes);
    const { strings } = frame;
    const order = makeOrder();
    runs.count = tunnelNodes.count = outlines.count = kept.count = 0;
    scanNodes(frame, columns, order, runs);
    scanWays(frame, fields, order, refs, tunnelNodes, kept);
    scanRelations(frame, fields, order, refs, outlines);
    return {
      first: order.first,
      last: order.last,
      runIds: runs.ids.slice(0, runs.count),
      runCells: runs.cells.slice(0, runs.count),
      tunnelNodes: tunnelNodes.toArray(),
      outlines: outlines.toArray(),
      mayTagNodes: (strings.allBits & NODE_KEY) !== 0,
      mayKeepWays: (strings.allBits & WAY_KEY) !== 0,
      ways: frame.ways.count === 0 ? undefined : shrinkBlock(frame, kept, allocate),
    };
  };
}

type Order = ReturnType<typeof makeOrder>;

function scanNodes(frame: BlockFrame, columns: DenseColumns, order: Order, runs: Runs): void {
  const { nodes } = frame;
  for (let index = 0; index < nodes.count; index += 1) {
    columns.read(frame, nodes.from[index] as number, nodes.end[index] as number);
    order.addNodes(columns);
    addRuns(runs, columns, frame);
  }
}

/** Houses are most of the ways, and are passed over; what follows without one between is put aside as one run. */
function scanWays(
  { bytes, view, strings, ways }: BlockFrame,
  fields: ElementFields,
  order: Order,
  refs: DeltaList,
  tunnelNodes: NumberList,
  kept: NumberList,
): void {
  for (let index = 0; index < ways.count; index += 1) {
    const start = ways.start[index] as number;
    const from = ways.from[index] as number;
    const end = ways.end[index] as number;
    fields.readHead(bytes, from, end, strings);
    order.add(WAYS, fields.id);
    if ((fields.keyBits & (WAY_KEY | HOUSE_KEY)) === HOUSE_KEY) continue;
    if (kept.count > 0 && kept.items[kept.count - 1] === start) kept.items[kept.count - 1] = end;
    else {
      kept.add(start);
      kept.add(end);
    }
    if ((fields.keyBits & ROOF_KEY) === 0) continue;
    fields.read(bytes, from, end);
    if (!isRoadUnderRoof(fields.readTags(strings, WAY_KEY | ROOF_KEY))) continue;
    refs.read(view, fields.from[8] as number, fields.end[8] as number);
    tunnelNodes.addAll(refs.items, refs.count);
  }
}

function scanRelations(
  frame: BlockFrame,
  fields: ElementFields,
  order: Order,
  refs: DeltaList,
  outlines: NumberList,
): void {
  const { bytes, strings, relations } = frame;
  for (let index = 0; index < relations.count; index += 1) {
    fields.read(bytes, relations.from[index] as number, relations.end[index] as number);
    order.add(RELATIONS, fields.id);
    fields.readKeys(strings);
    if ((fields.keyBits & WAY_KEY) === 0) continue;
    if (!wantsMembers(fields.readTags(strings, WAY_KEY | TYPE_KEY))) continue;
    readMemberWays(frame, fields, refs);
    outlines.addAll(refs.items, refs.count);
  }
}

function makeOrder() {
  const first = [Number.NaN, Number.NaN, Number.NaN];
  const last = [Number.NaN, Number.NaN, Number.NaN];
  const add = (kind: number, id: number) => {
    if (id <= (last[kind] as number) || !(Math.abs(id) <= MAX_ID)) throw new UnusualPbf();
    if (Number.isNaN(last[kind])) first[kind] = id;
    last[kind] = id;
  };
  return {
    first,
    last,
    add,
    addNodes({ ids, count }: DenseColumns) {
      if (count === 0) return;
      if (!isAscending(ids, count)) throw new UnusualPbf();
      add(NODES, ids[0] as number);
      if (count > 1) add(NODES, ids[count - 1] as number);
    },
  };
}

function isAscending(ids: Float64Array, count: number): boolean {
  let previous = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < count; index += 1) {
    const id = ids[index] as number;
    if (id <= previous) return false;
    previous = id;
  }
  return true;
}

class Runs {
  count = 0;
  ids = new Float64Array(1 << 12);
  cells = new Int32Array(1 << 12);

  add(id: number, cell: number): void {
    if (this.count === this.ids.length) {
      const { ids, cells } = this;
      this.ids = new Float64Array(2 * ids.length);
      this.ids.set(ids);
      this.cells = new Int32Array(2 * cells.length);
      this.cells.set(cells);
    }
    this.ids[this.count] = id;
    this.cells[this.count++] = cell;
  }
}

/** A new run starts where a node leaves the cell of the one before; inside a cell only bounds are compared. */
function addRuns(runs: Runs, { ids, lats, lons, count }: DenseColumns, frame: BlockFrame): void {
  const { granularity, latOffset, lonOffset } = frame;
  let south = 0;
  let north = 0;
  let west = 0;
  let east = 0;
  for (let index = 0; index < count; index += 1) {
    const lat = lats[index] as number;
    const lon = lons[index] as number;
    if (lat >= south && lat < north && lon >= west && lon < east) continue;
    const latDeg = (latOffset + granularity * lat) / 1e9;
    const lonDeg = (lonOffset + granularity * lon) / 1e9;
    if (!(Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 180)) {
      throw new RefusalError('input-coordinates', { where: `node/${ids[index]}: ${latDeg}, ${lonDeg}` });
    }
    const row = toRow(latDeg);
    const column = toColumn(lonDeg);
    south = ((row / CELLS_PER_DEG - 90) * 1e9 - latOffset) / granularity;
    north = (((row + 1) / CELLS_PER_DEG - 90) * 1e9 - latOffset) / granularity;
    west = ((column / CELLS_PER_DEG - 180) * 1e9 - lonOffset) / granularity;
    east = (((column + 1) / CELLS_PER_DEG - 180) * 1e9 - lonOffset) / granularity;
    runs.add(ids[index] as number, toCell(lonDeg, latDeg));
  }
}
