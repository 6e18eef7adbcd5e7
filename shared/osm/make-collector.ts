import type { BBox } from '../geodesy/lon-lat.ts';
import { RefusalError } from '../outcome/refusal.ts';
import type { OsmExtract, OsmMember, OsmRelation, OsmWay, Tags } from './extract.ts';
import { isBuilding, wantsMembers, wantsNode, wantsRelation, wantsWay } from './keep.ts';
import { makeTagCopier } from './make-tag-copier.ts';
import { makeNodeStore } from './node-store.ts';
import { makeWayStore } from './way-store.ts';

export type Limits = {
  /** Nodes in the file, kept or not (16 bytes each). */
  readonly maxNodes: number;
  /** Nodes that the extract keeps (about 100 bytes each). */
  readonly maxKeptNodes: number;
  /** Estimated bytes of ways, relations and tags. */
  readonly maxBytes: number;
};

export const DEFAULT_LIMITS: Limits = {
  maxNodes: 12_000_000,
  maxKeptNodes: 4_000_000,
  maxBytes: 256 * 2 ** 20,
};

/** What decoders feed. Arrays and tags that are passed in may be used again by the caller: they are copied. */
export type Collector = {
  /** A node with its position in degrees. */
  node(id: number, lon: number, lat: number, tags?: Tags): void;
  /** The position of a node that a way or relation mentions: it leaves the node's tags alone. */
  position(id: number, lon: number, lat: number): void;
  way(id: number, nodes: readonly number[], tags?: Tags): void;
  relation(id: number, members: readonly OsmMember[], tags?: Tags): void;
  /** The extract: pruned to what is kept, sorted by id, of doubles the last. */
  finish(source: OsmExtract['source'], bbox?: BBox): OsmExtract;
};

const NO_TAGS: Tags = {};
/** Far above any id in use, and small enough that differences of ids stay exact. */
const MAX_ID = 2 ** 51;

/**
 * Makes the collector that every decoder feeds with the elements of one file, in any order. It throws
 * RefusalError 'input-coordinates' (off the globe, not a number), 'input-damaged' (an id that is no whole
 * number) and 'input-too-large' (beyond `limits`).
 */
export function makeCollector(limits: Limits = DEFAULT_LIMITS): Collector {
  const positions = makeNodeStore(limits.maxNodes);
  const nodeTags = new Map<number, Tags>();
  const ways = new Map<number, OsmWay>();
  const otherWays = makeWayStore();
  const relations = new Map<number, OsmRelation>();
  const copyTags = makeTagCopier();
  let keptBytes = 0;
  const spend = (bytes: number) => {
    keptBytes += bytes;
    if (keptBytes + otherWays.byteLength > limits.maxBytes) {
      throw new RefusalError('input-too-large', {
        limit: `${limits.maxBytes / 2 ** 20} MB of roads and areas`,
      });
    }
  };
  return {
    node(id, lon, lat, tags) {
      checkId('node', id);
      positions.add(id, lon, lat);
      if (tags !== undefined && wantsNode(tags)) {
        spend(80 + sizeOfTags(tags));
        nodeTags.set(id, copyTags(tags));
      } else if (nodeTags.size > 0) nodeTags.delete(id);
    },
    position(id, lon, lat) {
      checkId('node', id);
      positions.add(id, lon, lat);
    },
    way(id, nodes, tags = NO_TAGS) {
      checkId('way', id);
      for (const node of nodes) if (!isId(node)) checkId('node', node, `way/${id}`);
      if (wantsWay(tags)) {
        spend(160 + 8 * nodes.length + sizeOfTags(tags));
        ways.set(id, { id, nodes: nodes.slice(), tags: copyTags(tags) });
        return;
      }
      ways.delete(id);
      if (isBuilding(tags)) return;
      otherWays.add(id, nodes);
      spend(0);
    },
    relation(id, members, tags = NO_TAGS) {
      checkId('relation', id);
      if (!wantsRelation(tags)) {
        relations.delete(id);
        return;
      }
      for (const member of members) checkId(member.type, member.ref, `relation/${id}`);
      spend(160 + 80 * members.length + sizeOfTags(tags));
      relations.set(id, { id, members: members.slice(), tags: copyTags(tags) });
    },
    finish(source, bbox) {
      for (const [id, nodes] of otherWays.pick(listMembers(relations, ways))) {
        ways.set(id, { id, nodes, tags: NO_TAGS });
      }
      const ids = listNodeIds(ways, nodeTags);
      if (ids.length > limits.maxKeptNodes) {
        const limit = `${limits.maxKeptNodes.toLocaleString('en')} nodes of roads and areas`;
        throw new RefusalError('input-too-large', { limit });
      }
      const nodes = positions.pick(ids, nodeTags);
      const extract = { source, nodes, ways: sortById(ways), relations: sortById(relations) };
      return bbox === undefined ? extract : { ...extract, bbox };
    },
  };
}

function isId(id: number): boolean {
  return Number.isInteger(id) && id <= MAX_ID && id >= -MAX_ID;
}

function checkId(type: string, id: number, where?: string): void {
  if (isId(id)) return;
  throw new RefusalError('input-damaged', {
    where: `${where === undefined ? '' : `${where}, `}${type} id ${id}`,
  });
}

/** Bytes, roughly: a property slot and the characters, as if nothing were shared. */
function sizeOfTags(tags: Tags): number {
  let size = 0;
  for (const key in tags) size += 32 + key.length + (tags[key]?.length ?? 0);
  return size;
}

/** The ways that bound a kept area and that are not kept for their own sake. */
function listMembers(
  relations: ReadonlyMap<number, OsmRelation>,
  ways: ReadonlyMap<number, OsmWay>,
): Set<number> {
  const ids = new Set<number>();
  for (const { members, tags } of relations.values()) {
    if (!wantsMembers(tags)) continue;
    for (const { type, ref } of members) if (type === 'way' && !ways.has(ref)) ids.add(ref);
  }
  return ids;
}

/** The ids of all nodes that are used or tagged, ascending, each once. */
function listNodeIds(ways: ReadonlyMap<number, OsmWay>, nodeTags: ReadonlyMap<number, Tags>): Float64Array {
  let count = nodeTags.size;
  for (const way of ways.values()) count += way.nodes.length;
  const ids = new Float64Array(count);
  let at = 0;
  for (const way of ways.values()) for (const node of way.nodes) ids[at++] = node;
  for (const id of nodeTags.keys()) ids[at++] = id;
  ids.sort();
  let unique = 0;
  for (const id of ids) if (unique === 0 || ids[unique - 1] !== id) ids[unique++] = id;
  return ids.subarray(0, unique);
}

function sortById<T extends { readonly id: number }>(elements: ReadonlyMap<number, T>): T[] {
  return [...elements.values()].sort((a, b) => a.id - b.id);
}
