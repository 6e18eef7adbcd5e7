import { RefusalError } from '../outcome/refusal.ts';
import { NODE_KEY, ROOF_KEY, TYPE_KEY, WAY_KEY } from './block-strings.ts';
import { decodeDeltas } from './decode-deltas.ts';
import { DenseColumns } from './dense-columns.ts';
import { ElementFields } from './element-fields.ts';
import { isRoadUnderRoof, wantsMembers } from './keep.ts';
import { type BlockFrame, readBlockFrame, visitBlock } from './pbf-frame.ts';
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
};

const MAX_ID = 2 ** 51;

/**
 * Makes the reader of the first pass: where the nodes are, which of them are a road tunnel's, which ways bound an
 * area. It throws UnusualPbf unless nodes, ways and relations follow each other with ascending ids, and refuses
 * 'input-damaged' and 'input-coordinates'.
 */
export function makeScanner(): (bytes: Uint8Array) => BlockScan {
  const columns = new DenseColumns();
  const fields = new ElementFields();
  const runs = new Runs();
  let refs = new Float64Array(1 << 12);
  return (bytes) => {
    const frame = readBlockFrame(bytes);
    const { strings } = frame;
    const order = makeOrder();
    runs.count = 0;
    const tunnelNodes: number[] = [];
    const outlines: number[] = [];
    const hasRoofs = (strings.allBits & ROOF_KEY) !== 0;
    visitBlock(frame, {
      nodes(from, end) {
        columns.read(frame, from, end);
        order.addNodes(columns);
        addRuns(runs, columns, frame);
      },
      way(from, end) {
        if (!hasRoofs) {
          fields.readId(bytes, from, end);
          order.add(WAYS, fields.id);
          return;
        }
        fields.read(bytes, from, end);
        order.add(WAYS, fields.id);
        fields.readKeys(strings);
        if ((fields.keyBits & ROOF_KEY) === 0) return;
        if (!isRoadUnderRoof(fields.readTags(strings, WAY_KEY | ROOF_KEY))) return;
        const size = (fields.end[8] as number) - (fields.from[8] as number);
        if (size > refs.length) refs = new Float64Array(2 * size);
        const count = decodeDeltas(frame.view, fields.from[8] as number, fields.end[8] as number, refs);
        for (let index = 0; index < count; index += 1) tunnelNodes.push(refs[index] as number);
      },
      relation(from, end) {
        fields.read(bytes, from, end);
        order.add(RELATIONS, fields.id);
        addOutlines(fields, frame, outlines);
      },
    });
    return {
      first: order.first,
      last: order.last,
      runIds: runs.ids.slice(0, runs.count),
      runCells: runs.cells.slice(0, runs.count),
      tunnelNodes: Float64Array.from(tunnelNodes),
      outlines: Float64Array.from(outlines),
      mayTagNodes: (strings.allBits & NODE_KEY) !== 0,
      mayKeepWays: (strings.allBits & WAY_KEY) !== 0,
    };
  };
}

function makeOrder() {
  const first = [Number.NaN, Number.NaN, Number.NaN];
  const last = [Number.NaN, Number.NaN, Number.NaN];
  let kind = NODES;
  const add = (of: number, id: number) => {
    if (of < kind || id <= (last[of] as number) || !(Math.abs(id) <= MAX_ID)) throw new UnusualPbf();
    kind = of;
    if (Number.isNaN(last[of])) first[of] = id;
    last[of] = id;
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

function addOutlines(fields: ElementFields, { bytes, view, strings }: BlockFrame, outlines: number[]): void {
  fields.readKeys(strings);
  if ((fields.keyBits & WAY_KEY) === 0 || !wantsMembers(fields.readTags(strings, WAY_KEY | TYPE_KEY))) return;
  const from = fields.from[9] as number;
  const end = fields.end[9] as number;
  const refs = new Float64Array(end - from);
  const count = decodeDeltas(view, from, end, refs);
  const types = fields.from[10] as number;
  if ((fields.end[10] as number) - types !== count) throw new RefusalError('input-damaged');
  for (let index = 0; index < count; index += 1) {
    if (bytes[types + index] === WAYS) outlines.push(refs[index] as number);
  }
}
