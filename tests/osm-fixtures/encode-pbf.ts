import { zlibSync } from 'fflate';

/*
 * Writes OSM PBF for tests, from the format's published field numbers, with BigInt and without any code of the
 * reader. Each function returns the bytes of one field or message, so that a test can put them in any order.
 */

/** An unsigned number in base 128; a negative one as the 64-bit two's complement, as `int64` asks. */
export function varint(value: number | bigint): number[] {
  let rest = BigInt.asUintN(64, BigInt(value));
  const bytes: number[] = [];
  for (;;) {
    const low = Number(rest & 127n);
    rest >>= 7n;
    if (rest === 0n) return [...bytes, low];
    bytes.push(low | 128);
  }
}

/** A signed number with its sign in the lowest bit, as `sint64` asks. */
export function zigzag(value: number): number[] {
  const big = BigInt(value);
  return varint(big < 0n ? -2n * big - 1n : 2n * big);
}

/** A field that holds one number, already encoded. */
export function number(field: number, encoded: number[]): number[] {
  return [...varint(field * 8), ...encoded];
}

/** A field that holds bytes: a message, a text, or packed numbers. */
export function bytes(field: number, content: ArrayLike<number>): number[] {
  return [...varint(field * 8 + 2), ...varint(content.length), ...Array.from(content)];
}

export function text(field: number, content: string): number[] {
  return bytes(field, new TextEncoder().encode(content));
}

/** Zigzag differences, packed. */
export function deltas(field: number, values: readonly number[]): number[] {
  return bytes(
    field,
    values.flatMap((value, index) => zigzag(value - (values[index - 1] ?? 0))),
  );
}

export function packed(field: number, values: readonly number[]): number[] {
  return bytes(
    field,
    values.flatMap((value) => varint(value)),
  );
}

/** One blob with its header; `how` writes the blob's own fields. */
export function blob(
  type: string,
  content: number[],
  how: (content: number[]) => number[] = zlib,
): Uint8Array {
  const body = how(content);
  const header = [...text(1, type), ...number(3, varint(body.length))];
  const size = new Uint8Array(4);
  new DataView(size.buffer).setUint32(0, header.length);
  return Uint8Array.from([...size, ...header, ...body]);
}

export function zlib(content: number[]): number[] {
  return [...number(2, varint(content.length)), ...bytes(3, zlibSync(Uint8Array.from(content)))];
}

export function raw(content: number[]): number[] {
  return bytes(1, content);
}

export function header(...fields: number[][]): Uint8Array {
  return blob('OSMHeader', [...text(4, 'OsmSchema-V0.6'), ...text(4, 'DenseNodes'), ...fields.flat()]);
}

export function concat(...parts: readonly Uint8Array[]): Uint8Array {
  return Uint8Array.from(parts.flatMap((part) => [...part]));
}

/** A block's texts; number 0 is always the empty one, as the format asks. */
export function makeTexts(): { index(content: string): number; field(): number[] } {
  const list = [''];
  return {
    index(content) {
      const at = list.indexOf(content);
      return at >= 0 ? at : list.push(content) - 1;
    },
    field: () =>
      bytes(
        1,
        list.flatMap((content) => text(1, content)),
      ),
  };
}

type Texts = ReturnType<typeof makeTexts>;
type Tags = Readonly<Record<string, string>>;
type Node = { readonly id: number; readonly lon: number; readonly lat: number; readonly tags?: Tags };
type Member = { readonly type: 'node' | 'way' | 'relation'; readonly ref: number; readonly role: string };

/** Nodes as columns; positions in the default unit of 1e-7 degrees. */
export function denseNodes(nodes: readonly Node[], texts: Texts): number[] {
  const pairs = nodes.flatMap(({ tags }) => [...tagPairs(tags, texts).flat(), 0]);
  return bytes(2, [
    ...deltas(
      1,
      nodes.map(({ id }) => id),
    ),
    ...deltas(
      8,
      nodes.map(({ lat }) => Math.round(lat * 1e7)),
    ),
    ...deltas(
      9,
      nodes.map(({ lon }) => Math.round(lon * 1e7)),
    ),
    ...packed(10, pairs),
  ]);
}

export function way(id: number, nodes: readonly number[], tags: Tags, texts: Texts): number[] {
  const pairs = tagPairs(tags, texts);
  return bytes(3, [...number(1, varint(id)), ...tagFields(pairs), ...deltas(8, nodes)]);
}

export function relation(id: number, members: readonly Member[], tags: Tags, texts: Texts): number[] {
  const kinds = ['node', 'way', 'relation'];
  return bytes(4, [
    ...number(1, varint(id)),
    ...tagFields(tagPairs(tags, texts)),
    ...packed(
      8,
      members.map(({ role }) => texts.index(role)),
    ),
    ...deltas(
      9,
      members.map(({ ref }) => ref),
    ),
    ...packed(
      10,
      members.map(({ type }) => kinds.indexOf(type)),
    ),
  ]);
}

function tagPairs(tags: Tags | undefined, texts: Texts): [number, number][] {
  return Object.entries(tags ?? {}).map(([key, value]) => [texts.index(key), texts.index(value)]);
}

function tagFields(pairs: readonly [number, number][]): number[] {
  return [
    ...packed(
      2,
      pairs.map(([key]) => key),
    ),
    ...packed(
      3,
      pairs.map(([, value]) => value),
    ),
  ];
}
