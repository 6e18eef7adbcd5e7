import type { OsmNode, OsmWay } from '../osm/extract.ts';

/** Where nodes stand in a list, by their ids. */
export type NodeIndex = {
  /** The place in the list, or -1. */
  find(id: number): number;
};

/** Which ways pass through a node, by the node's place in its list. */
export type WaysAtNodes = {
  /** How often ways name the node, a ring its first one twice. */
  count(node: number): number;
  /** Hands over places in the list of ways, ascending, each once. */
  visit(node: number, onWay: (way: number) => void): void;
};

/**
 * Indexes nodes by id. A hash table in plain arrays of numbers: a Map would make an object of every large id that is
 * put in or asked for, and a city has a million. Of doubles the last counts.
 */
export function makeNodeIndex(nodes: readonly OsmNode[]): NodeIndex {
  // At least twice as many slots as nodes, so that runs of taken slots stay short.
  const bits = Math.max(4, 33 - Math.clz32(nodes.length));
  const mask = 2 ** bits - 1;
  const slots = new Int32Array(mask + 1).fill(-1);
  const ids = new Float64Array(nodes.length);
  /** The slot that holds this id, or the free one where it belongs. */
  const seek = (id: number): number => {
    let slot = mix(id) >>> (32 - bits);
    for (;;) {
      const place = slots[slot] as number;
      if (place < 0 || ids[place] === id) return slot;
      slot = (slot + 1) & mask;
    }
  };
  for (let place = 0; place < nodes.length; place += 1) {
    const { id } = nodes[place] as OsmNode;
    ids[place] = id;
    slots[seek(id)] = place;
  }
  return { find: (id) => slots[seek(id)] as number };
}

/** Spreads the 53 bits of an id over 32 (Fibonacci hashing). */
function mix(id: number): number {
  return Math.imul((id | 0) ^ Math.imul((id / 2 ** 32) | 0, 0x85ebca6b), 0x9e3779b1);
}

/** Indexes ways by the nodes that `index` knows: one run of a shared array for each node. */
export function indexWays(index: NodeIndex, nodeCount: number, ways: readonly OsmWay[]): WaysAtNodes {
  let count = 0;
  for (const { nodes } of ways) count += nodes.length;
  const places = new Int32Array(count);
  const starts = new Int32Array(nodeCount + 1);
  let at = 0;
  for (const { nodes } of ways) {
    for (let i = 0; i < nodes.length; i += 1) {
      const place = index.find(nodes[i] as number);
      places[at++] = place;
      if (place >= 0) starts[place + 1] = (starts[place + 1] as number) + 1;
    }
  }
  for (let place = 0; place < nodeCount; place += 1) {
    starts[place + 1] = (starts[place + 1] as number) + (starts[place] as number);
  }
  const ends = starts.slice(0, nodeCount);
  const all = new Int32Array(count);
  at = 0;
  for (let way = 0; way < ways.length; way += 1) {
    const { length } = (ways[way] as OsmWay).nodes;
    for (let i = 0; i < length; i += 1) {
      const place = places[at++] as number;
      if (place < 0) continue;
      const end = ends[place] as number;
      // A ring names its first node twice.
      if (end > (starts[place] as number) && all[end - 1] === way) continue;
      all[end] = way;
      ends[place] = end + 1;
    }
  }
  return {
    count: (node) => (starts[node + 1] as number) - (starts[node] as number),
    visit(node, onWay) {
      const end = ends[node] as number;
      for (let i = starts[node] as number; i < end; i += 1) onWay(all[i] as number);
    },
  };
}
