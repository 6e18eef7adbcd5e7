import { readExtractFile } from '../../server/extracts/read-extract.ts';

const STEP_DEG = 0.25;

/** An Overpass answer of so many elements: a place again and again, each time further east and with other ids. */
export async function writeLongAnswer(path: string, elements: number): Promise<string> {
  const extract = await readExtractFile(path);
  if (!extract.ok) throw new Error(extract.refusal.code);
  const { nodes, ways, relations } = extract.value;
  const copies = Math.ceil(elements / (nodes.length + ways.length + relations.length));
  const all = { nodes: [] as object[], ways: [] as object[], relations: [] as object[] };
  for (let copy = 0; copy < copies; copy += 1) {
    const move = (id: number) => id + copy * 1e10;
    for (const node of nodes) {
      all.nodes.push({ type: 'node', ...node, id: move(node.id), lon: round(node.lon + copy * STEP_DEG) });
    }
    for (const way of ways) {
      all.ways.push({ type: 'way', ...way, id: move(way.id), nodes: way.nodes.map(move) });
    }
    for (const relation of relations) {
      const members = relation.members.map((member) => ({ ...member, ref: move(member.ref) }));
      all.relations.push({ type: 'relation', ...relation, id: move(relation.id), members });
    }
  }
  const spare = nodes.length * copies + (ways.length + relations.length) * copies - elements;
  // What is too much is taken from the last copy's nodes.
  const kept = all.nodes.slice(0, all.nodes.length - spare);
  return JSON.stringify({ version: 0.6, elements: [...kept, ...all.ways, ...all.relations] });
}

function round(degrees: number): number {
  return Math.round(degrees * 1e7) / 1e7;
}
