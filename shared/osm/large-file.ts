import type { BBox } from '../geodesy/lon-lat.ts';
import { RefusalError } from '../outcome/refusal.ts';
import type { OsmExtract, OsmNode, OsmRelation, OsmWay, Tags } from './extract.ts';
import { type IdRanges, sortUnique } from './id-ranges.ts';
import { wantsMembers } from './keep.ts';
import type { Limits } from './make-collector.ts';
import { findNearTunnels } from './near-tunnels.ts';
import { type Positions, UNIT, UNSET } from './pbf-pick-nodes.ts';
import { type Outline, type PickedWays, toOutlineNodes } from './pbf-pick-ways.ts';
import { type BlockScan, NODES, RELATIONS, WAYS } from './pbf-scan.ts';
import { UnusualPbf } from './unusual-pbf.ts';
import { toWays } from './way-batch.ts';

/** What the first pass found in the whole file. */
export type Overview = {
  readonly near: IdRanges;
  /** Ways that bound areas, ascending. */
  readonly outlines: Float64Array;
};

/**
 * Joins what the blocks of a file told, in the order of the file. Throws UnusualPbf unless ids ascend from block to
 * block and the kinds follow each other.
 */
export function joinScans(scans: readonly BlockScan[]): Overview {
  checkOrder(scans);
  const runs = {
    ids: concat(scans.map(({ runIds }) => runIds)),
    cells: concatCells(scans.map(({ runCells }) => runCells)),
  };
  const tunnelNodes = sortUnique(concat(scans.map((scan) => scan.tunnelNodes)));
  return {
    near: findNearTunnels(runs, tunnelNodes),
    outlines: sortUnique(concat(scans.map((scan) => scan.outlines))),
  };
}

function checkOrder(scans: readonly BlockScan[]): void {
  const last = [Number.NaN, Number.NaN, Number.NaN];
  let reached = NODES;
  for (const scan of scans) {
    for (const kind of [NODES, WAYS, RELATIONS]) {
      const first = scan.first[kind] as number;
      if (Number.isNaN(first)) continue;
      if (kind < reached || first <= (last[kind] as number)) throw new UnusualPbf();
      reached = kind;
      last[kind] = scan.last[kind] as number;
    }
  }
}

function concat(parts: readonly Float64Array[]): Float64Array {
  return fill(new Float64Array(sizeOf(parts)), parts);
}

function concatCells(parts: readonly Int32Array[]): Int32Array {
  return fill(new Int32Array(sizeOf(parts)), parts);
}

function sizeOf(parts: readonly { readonly length: number }[]): number {
  return parts.reduce((sum, part) => sum + part.length, 0);
}

function fill<T extends Float64Array | Int32Array>(all: T, parts: readonly T[]): T {
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** Collects what the later passes pick, and stops at the limits. */
export type LargeFile = {
  addWays(picked: PickedWays): void;
  addRelations(relations: readonly OsmRelation[]): void;
  /** Ids of the ways that were picked, ascending. */
  listWayIds(): Float64Array;
  /** Ids of the nodes that the picked ways need, with the outlines that a picked area lacks; ascending. */
  listNodeIds(): Float64Array;
  finish(
    source: OsmExtract['source'],
    bbox: BBox | undefined,
    positions: Positions,
    tagged: OsmNode[],
  ): OsmExtract;
};

/** Makes an empty collection. Its methods refuse 'input-too-large'. */
export function makeLargeFile(limits: Limits): LargeFile {
  const ways: OsmWay[] = [];
  const relations: OsmRelation[] = [];
  const spare = new Map<number, Outline>();
  const texts = new Map<string, string>();
  let bytes = 0;
  const spend = (more: number) => {
    bytes += more;
    if (bytes <= limits.maxBytes) return;
    throw new RefusalError('input-too-large', {
      limit: `${limits.maxBytes / 2 ** 20} MB of roads and areas near tunnels`,
    });
  };
  return {
    addWays(picked) {
      for (const way of toWays(picked, (text) => share(text, texts))) {
        spend(160 + 8 * way.nodes.length + sizeOfTags(way.tags));
        ways.push(way);
      }
      for (const outline of picked.outlines) {
        spend(80 + outline.bytes.length);
        spare.set(outline.id, outline);
      }
    },
    addRelations(more) {
      for (const relation of more) {
        const tags = shareTexts(relation.tags, texts);
        spend(160 + 80 * relation.members.length + sizeOfTags(tags));
        relations.push({ ...relation, tags });
      }
    },
    listWayIds() {
      const ids = new Float64Array(ways.length);
      for (let index = 0; index < ways.length; index += 1) ids[index] = (ways[index] as OsmWay).id;
      return ids.sort();
    },
    listNodeIds() {
      for (const { members, tags } of relations) {
        if (!wantsMembers(tags)) continue;
        for (const { type, ref } of members) {
          const outline = type === 'way' ? spare.get(ref) : undefined;
          if (outline === undefined) continue;
          spare.delete(ref);
          const nodes = toOutlineNodes(outline);
          spend(160 + 8 * nodes.length);
          ways.push({ id: ref, nodes, tags: {} });
        }
      }
      spare.clear();
      const ids = sortUnique(listAllNodes(ways));
      if (ids.length > limits.maxKeptNodes) {
        const limit = `${limits.maxKeptNodes.toLocaleString('en')} nodes of roads and areas near tunnels`;
        throw new RefusalError('input-too-large', { limit });
      }
      return ids;
    },
    finish(source, bbox, positions, tagged) {
      const extract = {
        source,
        nodes: toNodes(positions, tagged, texts),
        ways: ways.sort((a, b) => a.id - b.id),
        relations: relations.sort((a, b) => a.id - b.id),
      };
      return bbox === undefined ? extract : { ...extract, bbox };
    },
  };
}

function listAllNodes(ways: readonly OsmWay[]): Float64Array {
  const ids = new Float64Array(ways.reduce((sum, { nodes }) => sum + nodes.length, 0));
  let at = 0;
  for (const { nodes } of ways) for (const node of nodes) ids[at++] = node;
  return ids;
}

/** Equal texts are stored once. */
function shareTexts(tags: Tags, texts: Map<string, string>): Tags {
  const shared: Record<string, string> = {};
  for (const key in tags) shared[share(key, texts)] = share(tags[key] as string, texts);
  return shared;
}

function share(text: string, texts: Map<string, string>): string {
  const known = texts.get(text);
  if (known === undefined) texts.set(text, text);
  return known ?? text;
}

/** Bytes, roughly: a property slot and the characters, as if nothing were shared. */
function sizeOfTags(tags: Tags): number {
  let size = 0;
  for (const key in tags) size += 32 + key.length + (tags[key]?.length ?? 0);
  return size;
}

/** Nodes with a position and nodes with tags, both ascending, as one list. */
function toNodes({ ids, lons, lats }: Positions, tagged: OsmNode[], texts: Map<string, string>): OsmNode[] {
  const nodes: OsmNode[] = [];
  const others = [...tagged].sort((a, b) => a.id - b.id);
  let next = 0;
  const pushOther = () => {
    const other = others[next++] as OsmNode;
    nodes.push({ ...other, tags: shareTexts(other.tags ?? {}, texts) });
  };
  for (let slot = 0; slot < ids.length; slot += 1) {
    const id = ids[slot] as number;
    while (next < others.length && (others[next] as OsmNode).id < id) pushOther();
    if (lons[slot] === UNSET) continue;
    if (others[next]?.id === id) pushOther();
    else nodes.push({ id, lon: (lons[slot] as number) / UNIT, lat: (lats[slot] as number) / UNIT });
  }
  while (next < others.length) pushOther();
  return nodes;
}
