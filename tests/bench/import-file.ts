import { createWriteStream } from 'node:fs';
import { finished } from 'node:stream/promises';
import { deflateSync } from 'node:zlib';
import { readExtractFile } from '../../server/extracts/read-extract.ts';
import type { OsmExtract, OsmNode, OsmRelation, OsmWay, Tags } from '../../shared/osm/extract.ts';
import {
  blob,
  bytes,
  deltas,
  header,
  makeTexts,
  number,
  packed,
  relation,
  text,
  varint,
  zigzag,
} from '../osm-fixtures/encode-pbf.ts';

/*
 * Writes one large, sorted OSM PBF file out of small places, each repeated many times with ids and positions moved.
 * Only the first difference of a column depends on the place's turn, so the rest is encoded once.
 */

const NODES_IN_BLOCK = 8_000;
const COPIES_IN_A_ROW = 5;
const WAYS_IN_BLOCK = 8_000;
/** One copy in so many keeps its tunnels: in a country, most of the land is far from any. */
const TUNNELS_EVERY = 40;
const ID_GAP = 3;
/** In a country's extract about two thirds of the ways are houses. */
const HOUSES_PER_WAY = 2;
const HOUSES_PER_STREET = 20;
const COLUMNS = 60;
const STEP_DEG = 0.25;

type Place = { readonly nodes: NodeBlock[]; readonly ways: WayBlock[]; readonly relations: OsmRelation[] };
type NodeBlock = { readonly first: OsmNode; readonly texts: number[]; readonly tails: readonly Uint8Array[] };
type WayBlock = { readonly texts: number[]; readonly ways: readonly WayPart[] };
type WayPart = { id: number; tags: Uint8Array; first: number | undefined; tail: Uint8Array };
type Copy = { readonly place: Place; readonly shift: number; readonly lon: number; readonly lat: number };

/** Writes about `megabytes` MB to `path`, the same bytes for the same `seed`; returns how much is in it. */
export async function writeBigFile(
  path: string,
  sources: readonly string[],
  megabytes: number,
  seed = 3,
): Promise<{ nodes: number; ways: number; tunnelCopies: number }> {
  const random = seeded(seed);
  const places = await Promise.all(sources.map(readPlace));
  const extracts = places.map((place) => addHouses(place, random));
  const span = ID_GAP * Math.max(...extracts.map(({ nodes }) => nodes.length + 1_000));
  const withTunnels = extracts.map((extract) => encodePlace(extract, (tags) => tags));
  const without = extracts.map((extract) => encodePlace(extract, withoutTunnels));
  const waySizes = without.map((place) => encodeWays([{ place, shift: 0, lon: 0, lat: 0 }]).length);
  const out = createWriteStream(path);
  const write = (part: Uint8Array) => {
    out.write(part);
    return part.length;
  };
  write(header(text(16, 'invented'), text(5, 'Sort.Type_then_ID')));
  const copies: Copy[] = [];
  const count = { nodes: 0, ways: 0, tunnelCopies: 0 };
  let waysBytes = 0;
  for (let written = 0; written + waysBytes < megabytes * 1e6; ) {
    const turn = copies.length;
    const keeps = random() < 1 / TUNNELS_EVERY;
    const which = Math.floor(turn / COPIES_IN_A_ROW) % extracts.length;
    const extract = extracts[which] as OsmExtract;
    const copy: Copy = {
      place: (keeps ? withTunnels : without)[which] as Place,
      shift: turn * span,
      lon: -10 + (turn % COLUMNS) * STEP_DEG - (extract.nodes[0] as OsmNode).lon,
      lat: 40 + Math.floor(turn / COLUMNS) * STEP_DEG - (extract.nodes[0] as OsmNode).lat,
    };
    copies.push(copy);
    for (const block of copy.place.nodes) written += write(encodeNodes(block, copy));
    // Ways follow all nodes; what they will take is foreseen.
    waysBytes += waySizes[which] as number;
    count.nodes += extract.nodes.length;
    count.ways += extract.ways.length;
    if (keeps) count.tunnelCopies += 1;
  }
  for (const group of groupCopies(copies)) write(encodeWays(group));
  for (const copy of copies) if (copy.place.relations.length > 0) write(encodeRelations(copy));
  out.end();
  await finished(out);
  return count;
}

async function readPlace(path: string): Promise<OsmExtract> {
  const extract = await readExtractFile(path);
  if (!extract.ok) throw new Error(extract.refusal.code);
  return renumber(extract.value);
}

/** Numbers a place's objects from 1, with gaps, so that many copies stay within the ids that are in use. */
function renumber(extract: OsmExtract): OsmExtract {
  const makeNumbers = () => {
    const known = new Map<number, number>();
    return (id: number) => known.get(id) ?? known.set(id, 1 + known.size * ID_GAP).size * ID_GAP + 1 - ID_GAP;
  };
  const numbers = { node: makeNumbers(), way: makeNumbers(), relation: makeNumbers() };
  return {
    ...extract,
    nodes: extract.nodes.map((node) => ({ ...node, id: numbers.node(node.id) })),
    ways: extract.ways.map((way) => ({
      ...way,
      id: numbers.way(way.id),
      nodes: way.nodes.map(numbers.node),
    })),
    relations: extract.relations.map((relation) => ({
      ...relation,
      id: numbers.relation(relation.id),
      members: relation.members.map((member) => ({ ...member, ref: numbers[member.type](member.ref) })),
    })),
  };
}

function withoutTunnels(tags: Tags): Tags {
  const { tunnel: _, covered: __, ...rest } = tags;
  return rest;
}

/** Four corners and the address that a house in the map mostly has. */
function addHouses(extract: OsmExtract, random: () => number): OsmExtract {
  const nodes = [...extract.nodes];
  const ways = [...extract.ways];
  let street = 0;
  for (let house = 0; house < HOUSES_PER_WAY * extract.ways.length; house += 1) {
    // Street by street, as people draw them.
    if (house % HOUSES_PER_STREET === 0) street = Math.floor(random() * extract.nodes.length);
    const beside = extract.nodes[street] as OsmNode;
    const [west, south] = [beside.lon + (random() - 0.5) / 500, beside.lat + (random() - 0.5) / 500];
    const [width, height] = [(1 + random()) / 8_000, (1 + random()) / 12_000];
    const first = 1 + nodes.length * ID_GAP;
    const corners = [0, 1, 2, 3].map((corner) => ({
      id: first + corner * ID_GAP,
      lon: west + (corner === 1 || corner === 2 ? width : random() / 1e5),
      lat: south + (corner >= 2 ? height : random() / 1e5),
    }));
    nodes.push(...corners);
    const tags = { building: 'yes', 'addr:housenumber': String(1 + Math.floor(random() * 99)) };
    const ring = [...corners, corners[0] as OsmNode].map(({ id }) => id);
    ways.push({ id: 1 + ways.length * ID_GAP, nodes: ring, tags });
  }
  return { ...extract, nodes, ways };
}

function encodePlace(extract: OsmExtract, edit: (tags: Tags) => Tags): Place {
  const nodes: NodeBlock[] = [];
  for (let at = 0; at < extract.nodes.length; at += NODES_IN_BLOCK) {
    nodes.push(encodeNodeBlock(extract.nodes.slice(at, at + NODES_IN_BLOCK)));
  }
  return { nodes, ways: [encodeWayBlock(extract.ways, edit)], relations: [...extract.relations] };
}

const units = (degrees: number) => Math.round(degrees * 1e7);

/** The columns without their first value, which depends on the copy's turn. */
function encodeNodeBlock(nodes: readonly OsmNode[]): NodeBlock {
  const texts = makeTexts();
  const pairs = nodes.flatMap(({ tags = {} }) => [
    ...Object.entries(tags).flatMap(([key, value]) => [texts.index(key), texts.index(value)]),
    0,
  ]);
  const tail = (values: readonly number[]) =>
    Uint8Array.from(values.slice(1).flatMap((value, index) => zigzag(value - (values[index] as number))));
  return {
    first: nodes[0] as OsmNode,
    texts: texts.field(),
    tails: [
      tail(nodes.map(({ id }) => id)),
      tail(nodes.map(({ lat }) => units(lat))),
      tail(nodes.map(({ lon }) => units(lon))),
      Uint8Array.from([...packed(10, pairs), ...encodeDenseInfo(nodes.length)]),
    ],
  };
}

/** Who edited when, as every downloadable extract tells: versions, times and changesets, without names. */
function encodeDenseInfo(count: number): number[] {
  const random = seeded(count);
  const times = Array.from({ length: count }, () => Math.floor(1.2e9 + random() * 5e8));
  const versions = times.map(() => 1 + Math.floor(random() ** 4 * 9));
  return bytes(5, [
    ...packed(1, versions),
    ...deltas(
      2,
      times.map((time) => time - (time % 60)),
    ),
    ...deltas(
      3,
      times.map(() => 0),
    ),
  ]);
}

function encodeInfo(id: number): number[] {
  return bytes(4, [
    ...number(1, varint(1 + (id % 5))),
    ...number(2, varint(1_500_000_000 + id)),
    ...number(3, varint(0)),
  ]);
}

function encodeNodes({ first, texts, tails }: NodeBlock, { shift, lon, lat }: Copy): Uint8Array {
  const [ids, lats, lons, pairs] = tails as [Uint8Array, Uint8Array, Uint8Array, Uint8Array];
  const columns = Buffer.concat([
    column(1, first.id + shift, ids),
    column(8, units(first.lat) + units(lat), lats),
    column(9, units(first.lon) + units(lon), lons),
    pairs,
  ]);
  return pack(Buffer.concat([Buffer.from(texts), field(2, field(2, columns))]));
}

function column(number: number, first: number, tail: Uint8Array): Buffer {
  return field(number, Buffer.concat([Buffer.from(zigzag(first)), tail]));
}

function encodeWayBlock(ways: readonly OsmWay[], edit: (tags: Tags) => Tags): WayBlock {
  const texts = makeTexts();
  const parts = ways.map(({ id, nodes, tags }) => {
    const pairs = Object.entries(edit(tags));
    const keys = pairs.map(([key]) => texts.index(key));
    const values = pairs.map(([, value]) => texts.index(value));
    return {
      id,
      tags: Uint8Array.from([...packed(2, keys), ...packed(3, values), ...encodeInfo(id)]),
      first: nodes[0],
      tail: Uint8Array.from(nodes.slice(1).flatMap((node, index) => zigzag(node - (nodes[index] as number)))),
    };
  });
  return { texts: texts.field(), ways: parts };
}

/** Copies of one place, so that they share their texts, next to each other so that ids ascend. */
function groupCopies(copies: readonly Copy[]): Copy[][] {
  const groups: Copy[][] = [];
  for (const copy of copies) {
    const last = groups.at(-1);
    if (
      last?.[0]?.place === copy.place &&
      (last.length + 1) * (copy.place.ways[0]?.ways.length ?? 0) <= WAYS_IN_BLOCK
    )
      last.push(copy);
    else groups.push([copy]);
  }
  return groups;
}

function encodeWays(copies: readonly Copy[]): Uint8Array {
  const block = copies[0]?.place.ways[0] as WayBlock;
  const group = copies.flatMap(({ shift }) =>
    block.ways.map(({ id, tags, first, tail }) =>
      field(
        3,
        Buffer.concat([
          Buffer.from(number(1, varint(id + shift))),
          tags,
          first === undefined ? Buffer.alloc(0) : column(8, first + shift, tail),
        ]),
      ),
    ),
  );
  return pack(Buffer.concat([Buffer.from(block.texts), field(2, Buffer.concat(group))]));
}

function encodeRelations({ place, shift }: Copy): Uint8Array {
  const texts = makeTexts();
  const group = place.relations.flatMap(({ id, members, tags }) =>
    relation(
      id + shift,
      members.map((member) => ({ ...member, ref: member.ref + shift })),
      tags,
      texts,
    ),
  );
  return pack(Buffer.from([...texts.field(), ...bytes(2, group)]));
}

function field(number: number, content: Uint8Array): Buffer {
  return Buffer.concat([Buffer.from([...varint(number * 8 + 2), ...varint(content.length)]), content]);
}

function pack(content: Buffer): Uint8Array {
  return blob('OSMData', [], () => [...number(2, varint(content.length)), ...bytes(3, deflateSync(content))]);
}

function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
