import type { OsmNode, OsmRelation } from '../../shared/osm/extract.ts';
import type { IdRanges } from '../../shared/osm/id-ranges.ts';
import { makeNodePicker, type Positions } from '../../shared/osm/pbf-pick-nodes.ts';
import { makeRelationPicker } from '../../shared/osm/pbf-pick-relations.ts';
import { makeWayPicker, type PickedWays } from '../../shared/osm/pbf-pick-ways.ts';
import { type BlockScan, makeScanner } from '../../shared/osm/pbf-scan.ts';

/** What a pass over the blocks of a file is told; all of it can be sent to a thread. */
export type Passes = {
  /** `room` is shared: how many bytes may still be put aside. */
  readonly scan: { readonly kind: 'scan'; readonly room: Int32Array };
  readonly ways: { readonly kind: 'ways'; readonly near: IdRanges; readonly outlines: Float64Array };
  readonly relations: { readonly kind: 'relations'; readonly ways: Float64Array };
  /** The arrays of `positions` are shared: all threads write into the same ones. */
  readonly nodes: { readonly kind: 'nodes'; readonly near: IdRanges; readonly positions: Positions };
};

/** What each pass gives for one block. */
export type Answers = {
  readonly scan: BlockScan;
  readonly ways: PickedWays;
  readonly relations: readonly OsmRelation[];
  readonly nodes: readonly OsmNode[];
};

export type PassKind = keyof Passes;
export type Pass = Passes[PassKind];

/** Makes the function that reads a block in this pass. */
export function makePass(pass: Pass): (bytes: Uint8Array) => Answers[PassKind] {
  if (pass.kind === 'scan') return makeScanner((size) => allocateShared(pass.room, size));
  if (pass.kind === 'ways') return makeWayPicker(pass.near, pass.outlines);
  if (pass.kind === 'relations') return makeRelationPicker(pass.ways);
  return makeNodePicker(pass.positions, pass.near);
}

/** Memory that every thread can read, as long as there is room. */
function allocateShared(room: Int32Array, size: number): Uint8Array | undefined {
  if (Atomics.load(room, 0) < size) return undefined;
  Atomics.sub(room, 0, size);
  return new Uint8Array(new SharedArrayBuffer(size));
}
