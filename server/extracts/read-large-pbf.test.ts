import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OsmExtract, OsmNode, OsmRelation, OsmWay } from '../../shared/osm/extract.ts';
import type { Result } from '../../shared/outcome/result.ts';
import {
  blob,
  concat,
  denseNodes,
  bytes as field,
  header,
  makeTexts,
  raw,
  relation,
  text,
  way,
  zlib,
} from '../../tests/osm-fixtures/encode-pbf.ts';
import { ELEMENTS, TOWN } from '../../tests/osm-fixtures/tunnel-town.ts';
import { type ReadFileOptions, readExtract, readExtractFile } from './read-extract.ts';

const REAL = fileURLToPath(
  new URL('../../tests/places/liechtenstein/liechtenstein.osm.pbf', import.meta.url),
);

type Elements = { nodes: readonly OsmNode[]; ways: readonly OsmWay[]; relations: readonly OsmRelation[] };

/** Far above the town's own ids. */
const SHIFT = 1e10;
const byId = (a: { id: number }, b: { id: number }) => a.id - b.id;

/** The town again, with other ids, so many degrees further east, with one way's tags changed. */
function moveTown(times: number, eastDeg: number, tunnel: Record<string, string>): Elements {
  const move = (id: number) => id + times * SHIFT;
  return {
    nodes: ELEMENTS.nodes.map((node) => ({ ...node, id: move(node.id), lon: node.lon + eastDeg })),
    ways: ELEMENTS.ways.map((each) => ({
      id: move(each.id),
      nodes: each.nodes.map(move),
      tags: each.id === 10 ? tunnel : each.tags,
    })),
    relations: ELEMENTS.relations.map((each) => ({
      ...each,
      id: move(each.id),
      members: each.members.map((member) => ({ ...member, ref: move(member.ref) })),
    })),
  };
}

const HEADER = header(text(16, 'invented'));

/** A file in the order that nearly all files have, `size` elements in a blob. */
function encode({ nodes, ways, relations }: Elements, size = 4, sort = byId): Uint8Array {
  const parts: Uint8Array[] = [];
  const add = (content: (texts: ReturnType<typeof makeTexts>) => number[]) => {
    const texts = makeTexts();
    const group = field(2, content(texts));
    parts.push(blob('OSMData', [...texts.field(), ...group]));
  };
  const inBlobs = <T extends { id: number }>(all: readonly T[], write: (some: readonly T[]) => void) => {
    const sorted = all.toSorted(sort);
    for (let at = 0; at < sorted.length; at += size) write(sorted.slice(at, at + size));
  };
  inBlobs(nodes, (some) => add((texts) => denseNodes(some, texts)));
  inBlobs(ways, (some) => add((texts) => some.flatMap((w) => way(w.id, w.nodes, w.tags, texts))));
  inBlobs(relations, (some) => add((texts) => some.flatMap((r) => relation(r.id, r.members, r.tags, texts))));
  return concat(HEADER, ...parts);
}

function join2(...all: readonly Elements[]): Elements {
  return {
    nodes: all.flatMap(({ nodes }) => nodes),
    ways: all.flatMap(({ ways }) => ways),
    relations: all.flatMap(({ relations }) => relations),
  };
}

const HOME = moveTown(0, 0, { highway: 'motorway', tunnel: 'yes', name: 'A & B <bore>' });
const FAR = moveTown(1, 1, { highway: 'motorway' });

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'large-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function readLarge(file: Uint8Array, options: ReadFileOptions = {}): Promise<Result<OsmExtract>> {
  const path = join(folder, 'country.osm.pbf');
  await writeFile(path, file);
  return readExtractFile(path, { largeBytes: 0, ...options });
}

function getValue(result: Result<OsmExtract>): OsmExtract {
  if (!result.ok) throw new Error(JSON.stringify(result.refusal));
  return result.value;
}

const { bbox: _, ...TOWN_WITHOUT_BOX } = TOWN;
const EXPECTED = { ...TOWN_WITHOUT_BOX, source: { format: 'osm-pbf', generator: 'invented' } };

describe('readExtractFile, of a large PBF file', () => {
  it('keeps near a tunnel what a small file keeps', async () => {
    for (const size of [1, 4, 1000]) expect(getValue(await readLarge(encode(HOME, size)))).toEqual(EXPECTED);
  });

  it('leaves out what is far from every road tunnel for cars', async () => {
    for (const size of [1, 4]) {
      expect(getValue(await readLarge(encode(join2(HOME, FAR), size)))).toEqual(EXPECTED);
    }
    expect(getValue(await readLarge(encode(FAR)))).toMatchObject({ nodes: [], ways: [], relations: [] });
  });

  it('keeps the tunnels that the report must mention, wherever they are', async () => {
    const path = moveTown(1, 1, { highway: 'footway', tunnel: 'yes' });
    const { ways, nodes } = getValue(await readLarge(encode(join2(HOME, path))));
    expect(ways).toEqual([
      ...EXPECTED.ways,
      {
        id: 10 + SHIFT,
        nodes: [1, 2, 3].map((id) => id + SHIFT),
        tags: { highway: 'footway', tunnel: 'yes' },
      },
    ]);
    expect(nodes.map(({ id }) => id)).toEqual([
      ...EXPECTED.nodes.map(({ id }) => id),
      ...[1, 2, 3].map((id) => id + SHIFT),
    ]);
  });

  it('completes an area that reaches far beyond', async () => {
    const lake = {
      ...HOME.relations.find(({ id }) => id === 100),
      members: [11, 11 + SHIFT].map((ref) => ({ type: 'way', ref, role: 'outer' })),
    } as OsmRelation;
    const relations = [lake, ...HOME.relations.filter(({ id }) => id !== 100)];
    const all = join2({ ...HOME, relations }, { ...FAR, relations: [] });
    const extract = getValue(await readLarge(encode(all)));
    expect(extract.ways.map(({ id }) => id)).toEqual([-5, 10, 11, 11 + SHIFT]);
    expect(extract.nodes.filter(({ id }) => id > SHIFT + 1).map(({ id }) => id)).toEqual(
      [20, 21].map((id) => id + SHIFT),
    );
  });

  it('gives the same whether the ways stay in memory, are unpacked again, or some of each, in any thread', async () => {
    const file = encode(join2(HOME, FAR), 2);
    for (const asideBytes of [0, 100, 300, 1_000]) {
      expect(getValue(await readLarge(file, { asideBytes }))).toEqual(EXPECTED);
      expect(getValue(await readLarge(file, { asideBytes, threads: 3 }))).toEqual(EXPECTED);
    }
    const real = getValue(await readExtractFile(REAL, { largeBytes: 0 }));
    expect(real.ways.length).toBeGreaterThan(100);
    expect(getValue(await readExtractFile(REAL, { largeBytes: 0, asideBytes: 0 }))).toEqual(real);
  });

  it('reads blocks of all kinds together, packed or not', async () => {
    const texts = makeTexts();
    const { nodes, ways, relations } = join2(HOME, FAR);
    const groups = [
      denseNodes(nodes.toSorted(byId), texts),
      // Each in a group of its own.
      ...ways.toSorted(byId).map((w) => way(w.id, w.nodes, w.tags, texts)),
      relations.toSorted(byId).flatMap((r) => relation(r.id, r.members, r.tags, texts)),
    ].map((group) => field(2, group));
    const block = [texts.field(), ...groups];
    for (const how of [zlib, raw]) {
      // Texts may stand behind what is written with them, and kinds in any order.
      for (const fields of [
        block,
        [...groups, texts.field()],
        [...groups.slice(-1), ...block.slice(0, -1)],
      ]) {
        const file = concat(HEADER, blob('OSMData', fields.flat(), how));
        expect(getValue(await readLarge(file))).toEqual(EXPECTED);
      }
    }
  });

  it('lets no house bound an area, as in a small file', async () => {
    const shore = { id: 12, nodes: [20, 21, 22], tags: { building: 'boathouse' } };
    const lake = HOME.relations.find(({ id }) => id === 100) as OsmRelation;
    const members = [...lake.members, { type: 'way', ref: shore.id, role: 'outer' } as const];
    const relations = [{ ...lake, members }, ...HOME.relations.filter(({ id }) => id !== 100)];
    const file = encode({ ...HOME, ways: [...HOME.ways, shore], relations });
    const small = getValue(await readExtract(Readable.from([file]), { name: 'x' }));
    expect(small.ways.map(({ id }) => id)).toEqual(EXPECTED.ways.map(({ id }) => id));
    for (const asideBytes of [0, 1_000_000]) {
      expect(getValue(await readLarge(file, { asideBytes }))).toEqual(small);
    }
  });

  it('reads a file that is not sorted as it reads a stream', async () => {
    const file = encode(join2(HOME, FAR), 3, (a, b) => b.id - a.id);
    const whole = getValue(await readExtract(Readable.from([file]), { name: 'x' }));
    expect(whole.ways.length).toBe(6);
    expect(getValue(await readLarge(file, { threads: 3 }))).toEqual(whole);
    const seen: number[] = [];
    expect(getValue(await readLarge(file, { onProgress: (bytes) => seen.push(bytes) }))).toEqual(whole);
    expect(seen).toEqual(seen.toSorted((a, b) => a - b));
  });

  it('keeps of a real country all within 2.7 km of its tunnels, unchanged, and nothing beyond 10 km', async () => {
    const whole = getValue(await readExtract(Readable.from([await readFile(REAL)]), { name: 'x' }));
    const large = getValue(await readExtractFile(REAL, { largeBytes: 0 }));
    expect(large.ways.length).toBeLessThan(whole.ways.length);
    const places = new Map(whole.nodes.map((node) => [node.id, node]));
    const tunnels = whole.ways.filter(({ id }) => id === 870 || id === 5998).flatMap(({ nodes }) => nodes);
    const distance = (nodes: readonly number[]) =>
      Math.min(
        ...nodes.flatMap((a) =>
          tunnels.map((b) => distanceM(places.get(a) as OsmNode, places.get(b) as OsmNode)),
        ),
      );
    const kept = new Map(large.ways.map((each) => [each.id, each]));
    for (const each of whole.ways) {
      const found = kept.get(each.id);
      if (found !== undefined) expect(found).toEqual(each);
      else expect(distance(each.nodes)).toBeGreaterThan(2_700);
    }
    for (const node of large.nodes) expect(node).toEqual(places.get(node.id));
    const anywhere = new Set([870, 1836, 5998, 7073]);
    const near = large.ways.filter(({ id, tags }) => !anywhere.has(id) && tags.highway !== undefined);
    expect(Math.max(...near.map(({ nodes }) => distance(nodes)))).toBeLessThan(10_000);
  });
});

/** On a sphere; good to a percent. */
function distanceM(a: OsmNode, b: OsmNode): number {
  const radians = Math.PI / 180;
  const x = (a.lon - b.lon) * Math.cos(((a.lat + b.lat) / 2) * radians);
  return Math.hypot(x, a.lat - b.lat) * radians * 6_371_000;
}

describe.each([1, 3])('readExtractFile, with %i threads, refuses of a large PBF file', (threads) => {
  const file = encode(join2(HOME, FAR));

  it('one that is cut, with the blob', async () => {
    for (const length of [file.length - 1, file.length - 60, HEADER.length + 3, HEADER.length + 20]) {
      expect(await readLarge(file.subarray(0, length), { threads })).toMatchObject({
        ok: false,
        refusal: { code: 'input-truncated', context: { where: expect.stringMatching(/^in blob \d+$/) } },
      });
    }
  });

  it('one that is damaged inside, with the blob', async () => {
    const damaged = concat(
      file,
      blob('OSMData', [0x22, 0], () => field(3, [1, 2, 3])),
    );
    expect(await readLarge(damaged, { threads })).toMatchObject({
      ok: false,
      refusal: {
        code: 'input-damaged',
        context: { where: expect.stringMatching(/^blob \d+: no unpacked size$/) },
      },
    });
    const odd = encode({ ...HOME, nodes: HOME.nodes.map((node) => ({ ...node, lat: node.lat * 2 })) });
    expect(await readLarge(odd, { threads })).toMatchObject({
      ok: false,
      refusal: { code: 'input-coordinates' },
    });
  });

  it('one that is larger than allowed', async () => {
    expect(await readLarge(file, { threads, maxBytes: 100 })).toMatchObject({
      ok: false,
      refusal: { code: 'input-too-large' },
    });
  });

  it('when it is cancelled, before and while it reads', async () => {
    expect(await readLarge(file, { threads, signal: AbortSignal.abort() })).toMatchObject({
      refusal: { code: 'job-cancelled' },
    });
    const later = new AbortController();
    const result = await readLarge(file, { threads, signal: later.signal, onProgress: () => later.abort() });
    expect(result).toMatchObject({ ok: false, refusal: { code: 'job-cancelled' } });
  });

  it('tells how many bytes are read, up to all', async () => {
    const seen: number[] = [];
    await readLarge(file, { threads, onProgress: (bytes) => seen.push(bytes) });
    expect(seen.at(-1)).toBe(file.length);
    expect(seen.length).toBeGreaterThan(2);
    expect(seen).toEqual(seen.toSorted((a, b) => a - b));
  });
});
