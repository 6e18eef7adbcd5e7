import type { Complex, Link, TunnelNetwork } from '../network/network.ts';

/** The links of a network by what people call them. Names and refs are folded: `fold` what you look for. */
export type LinkIndex = {
  readonly byWay: ReadonlyMap<number, readonly Link[]>;
  readonly byRef: ReadonlyMap<string, readonly Link[]>;
  readonly byName: ReadonlyMap<string, readonly Link[]>;
  fold(text: string): string;
  /** The complex that a link is part of. */
  complexOf(link: Link): Complex;
};

/**
 * Makes the index of links by OSM way, by ref (each of those that a road has, `A 1;B 2`) and by the name of the road, the
 * tunnel or the complex.
 */
export function indexLinks({ links, complexes }: TunnelNetwork): LinkIndex {
  const byWay = new Map<number, Link[]>();
  const byRef = new Map<string, Link[]>();
  const byName = new Map<string, Link[]>();
  const complexById = new Map(
    complexes.flatMap((complex) => complex.linkIds.map((id) => [id as string, complex] as const)),
  );
  const complexOf = ({ id }: Link): Complex => {
    const complex = complexById.get(id);
    if (complex === undefined) throw new Error(`link ${id} is in no complex`);
    return complex;
  };
  for (const link of links) {
    const { name } = complexOf(link);
    for (const { wayId } of link.stretches) add(byWay, wayId, link);
    for (const { ref } of link.stretches) {
      for (const one of new Set(ref === undefined ? [] : [ref, ...ref.split(';')]))
        add(byRef, fold(one), link);
    }
    for (const one of [name, ...link.stretches.flatMap((stretch) => [stretch.name, stretch.tunnelName])]) {
      if (one !== undefined) add(byName, fold(one), link);
    }
  }
  return { byWay, byRef, byName, fold, complexOf };
}

function add<K>(map: Map<K, Link[]>, key: K, link: Link): void {
  const known = map.get(key);
  if (known === undefined) map.set(key, [link]);
  else if (known.at(-1) !== link) known.push(link);
}

/** The same text however it was typed: composed, in small letters, with single spaces. */
function fold(text: string): string {
  return text.normalize('NFKC').trim().replace(/\s+/g, ' ').toLowerCase();
}
