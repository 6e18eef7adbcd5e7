export type PlainNode = {
  readonly lon: number;
  readonly lat: number;
  readonly tags: Readonly<Record<string, string>>;
};
export type PlainWay = {
  readonly id: number;
  readonly nodes: readonly number[];
  readonly tags: Readonly<Record<string, string>>;
};
export type PlainRelation = {
  readonly id: number;
  readonly members: readonly { readonly type: string; readonly ref: number; readonly role: string }[];
  readonly tags: Readonly<Record<string, string>>;
};

export type PlainOsm = {
  readonly nodes: ReadonlyMap<number, PlainNode>;
  readonly ways: readonly PlainWay[];
  readonly relations: readonly PlainRelation[];
  /** Every id in file order, by kind, repeats kept. */
  readonly ids: Readonly<Record<'node' | 'way' | 'relation', readonly number[]>>;
};

/** Reads this folder's extract with patterns only: a second opinion that shares no code with the product's reader. */
export function readByPattern(xml: string): PlainOsm {
  const nodes = new Map<number, PlainNode>();
  const ids = { node: [] as number[], way: [] as number[], relation: [] as number[] };
  const ways: PlainWay[] = [];
  const relations: PlainRelation[] = [];
  for (const [, kind, head, body = ''] of xml.matchAll(
    /<(node|way|relation) ([^>]*?)(?:\/>|>([\s\S]*?)<\/\1>)/g,
  )) {
    const id = Number(attribute(head!, 'id'));
    ids[kind as 'node' | 'way' | 'relation'].push(id);
    const tags = Object.fromEntries(
      [...body.matchAll(/<tag k="([^"]*)" v="([^"]*)"\/>/g)].map(([, k, v]) => [k!, v!]),
    );
    if (kind === 'node') {
      nodes.set(id, { lon: Number(attribute(head!, 'lon')), lat: Number(attribute(head!, 'lat')), tags });
    } else if (kind === 'way') {
      ways.push({ id, nodes: [...body.matchAll(/<nd ref="(\d+)"\/>/g)].map((m) => Number(m[1])), tags });
    } else {
      const members = [...body.matchAll(/<member type="(\w+)" ref="(\d+)" role="([^"]*)"\/>/g)].map(
        ([, type, ref, role]) => ({ type: type!, ref: Number(ref), role: role! }),
      );
      relations.push({ id, members, tags });
    }
  }
  return { nodes, ways, relations, ids };
}

function attribute(head: string, name: string): string {
  const found = new RegExp(`${name}="([^"]*)"`).exec(head)?.[1];
  if (found === undefined) throw new Error(`no ${name} in ${head}`);
  return found;
}
