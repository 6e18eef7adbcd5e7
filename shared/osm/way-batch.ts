import type { BlockStrings } from './block-strings.ts';
import type { ElementFields } from './element-fields.ts';
import type { OsmWay } from './extract.ts';
import { NumberList } from './number-list.ts';
import type { Outline, PickedWays } from './pbf-pick-ways.ts';

/** Gathers the ways that are picked out of one block, and is used again for the next. */
export class WayBatch {
  private readonly ids = new NumberList();
  private readonly nodes = new NumberList();
  private readonly nodeCounts = new NumberList();
  private readonly tags = new NumberList();
  private readonly tagCounts = new NumberList();
  private texts: string[] = [];
  /** The number in `texts` by the text's number in the block. */
  private numbers = new Map<number, number>();

  clear(): void {
    for (const list of [this.ids, this.nodes, this.nodeCounts, this.tags, this.tagCounts]) list.count = 0;
    this.texts = [];
    this.numbers = new Map();
  }

  /** Adds a way without tags. */
  add(id: number, nodes: Float64Array, count: number): void {
    this.ids.add(id);
    this.nodes.addAll(nodes, count);
    this.nodeCounts.add(count);
    this.tagCounts.add(0);
  }

  /** Gives the last way the tags of the element that `fields` stands on. */
  addTags(fields: ElementFields, strings: BlockStrings): void {
    let count = 0;
    fields.visitTags((key, value) => {
      this.tags.add(this.number(key, strings));
      this.tags.add(this.number(value, strings));
      count += 1;
    });
    this.tagCounts.items[this.tagCounts.count - 1] = count;
  }

  toPicked(outlines: readonly Outline[]): PickedWays {
    return {
      ids: this.ids.toArray(),
      nodes: this.nodes.toArray(),
      nodeCounts: this.nodeCounts.toArray(),
      tags: this.tags.toArray(),
      tagCounts: this.tagCounts.toArray(),
      texts: this.texts,
      outlines,
    };
  }

  private number(index: number, strings: BlockStrings): number {
    const known = this.numbers.get(index);
    if (known !== undefined) return known;
    const number = this.texts.push(strings.get(index)) - 1;
    this.numbers.set(index, number);
    return number;
  }
}

/** The picked ways as objects; a key named `__proto__` is left out. */
export function toWays(picked: PickedWays, share: (text: string) => string): OsmWay[] {
  const texts = picked.texts.map(share);
  let node = 0;
  let tag = 0;
  return Array.from(picked.ids, (id, index) => {
    const nodesEnd = node + (picked.nodeCounts[index] as number);
    const nodes = Array.from(picked.nodes.subarray(node, nodesEnd));
    node = nodesEnd;
    const tags: Record<string, string> = {};
    for (let left = picked.tagCounts[index] as number; left > 0; left -= 1) {
      const key = texts[picked.tags[tag++] as number] as string;
      const value = texts[picked.tags[tag++] as number] as string;
      if (key !== '__proto__') tags[key] = value;
    }
    return { id, nodes, tags };
  });
}
