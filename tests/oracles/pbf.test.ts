import { readFile } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { inflateSync } from 'node:zlib';
import fc from 'fast-check';
import { OSMTransform } from 'osm-pbf-parser-node';
import { beforeAll, describe, expect, it } from 'vitest';
import { readExtract } from '../../server/extracts/read-extract.ts';
import type { OsmMember, Tags } from '../../shared/osm/extract.ts';
import { fromOsmPbf } from '../../shared/osm/from-osm-pbf.ts';
import type { Collector } from '../../shared/osm/make-collector.ts';
import { findRoadClass } from '../../shared/osm/read-highway.ts';
import { decode } from '../osm-fixtures/decode.ts';
import {
  blob,
  concat,
  denseNodes,
  header,
  makeTexts,
  bytes as message,
  relation,
  way,
} from '../osm-fixtures/encode-pbf.ts';
import { ELEMENTS } from '../osm-fixtures/tunnel-town.ts';

/*
 * Outside truth for the PBF reader: osm-pbf-parser-node 1.1.4, which shares no code with it, must give the same
 * elements in the same order; and osmium 1.15 (`osmium fileinfo -e`, `osmium tags-filter`) counted the real file.
 */

const REAL = new URL('../places/liechtenstein/liechtenstein.osm.pbf', import.meta.url);

type Element =
  | { type: 'node'; id: number; lon: number; lat: number; tags: Tags }
  | { type: 'way'; id: number; nodes: readonly number[]; tags: Tags }
  | { type: 'relation'; id: number; members: readonly OsmMember[]; tags: Tags };

/** Every element of a file in its order, before anything is left out. */
function readAll(file: Uint8Array): Element[] {
  const elements: Element[] = [];
  const unused = () => {
    throw new Error('not used by these files');
  };
  const collector: Collector = {
    node: (id, lon, lat, tags = {}) => elements.push({ type: 'node', id, lon, lat, tags }),
    position: unused,
    way: (id, nodes, tags = {}) => elements.push({ type: 'way', id, nodes: [...nodes], tags }),
    relation: (id, members, tags = {}) =>
      elements.push({ type: 'relation', id, members: [...members], tags }),
    finish: (source) => ({ source, nodes: [], ways: [], relations: [] }),
  };
  const result = decode(
    fromOsmPbf((bytes) => inflateSync(bytes), collector),
    file,
  );
  if (!result.ok) throw new Error(JSON.stringify(result.refusal));
  return elements;
}

type Theirs = {
  type: string;
  id: number;
  lon: number;
  lat: number;
  refs: number[];
  members: OsmMember[];
  tags?: Tags;
};

async function readTheirs(file: Uint8Array): Promise<Element[]> {
  const elements: Element[] = [];
  const parser = Readable.from([Buffer.from(file)]).pipe(new OSMTransform());
  for await (const batch of parser) {
    for (const { type, id, lon, lat, refs, members, tags = {} } of batch as Theirs[]) {
      if (type === 'node') elements.push({ type, id, lon, lat, tags });
      else if (type === 'way') elements.push({ type, id, nodes: refs, tags });
      else if (type === 'relation') elements.push({ type, id, members, tags });
    }
  }
  return elements;
}

/** Their degrees come out of another order of operations: equal to far below the 1e-7 that the file stores. */
function expectSame(ours: readonly Element[], theirs: readonly Element[]): void {
  expect(ours).toHaveLength(theirs.length);
  ours.forEach((element, index) => {
    const other = theirs[index] as Element;
    if (element.type !== 'node' || other.type !== 'node') {
      expect(element).toEqual(other);
      return;
    }
    expect({ ...element, lon: 0, lat: 0 }).toEqual({ ...other, lon: 0, lat: 0 });
    expect(Math.abs(element.lon - other.lon)).toBeLessThan(1e-12);
    expect(Math.abs(element.lat - other.lat)).toBeLessThan(1e-12);
  });
}

function encodeTown(): Uint8Array {
  const texts = makeTexts();
  const groups = [
    message(2, denseNodes(ELEMENTS.nodes, texts)),
    message(
      2,
      ELEMENTS.ways.flatMap(({ id, nodes, tags }) => way(id, nodes, tags, texts)),
    ),
    message(
      2,
      ELEMENTS.relations.flatMap(({ id, members, tags }) => relation(id, members, tags, texts)),
    ),
  ];
  return concat(header(), blob('OSMData', [...texts.field(), ...groups.flat()]));
}

describe('the PBF reader against osm-pbf-parser-node', () => {
  let real = new Uint8Array(0);
  beforeAll(async () => {
    real = await readFile(REAL);
  });

  it('agrees element for element on an invented place', async () => {
    const theirs = await readTheirs(encodeTown());
    expect(theirs).toHaveLength(ELEMENTS.nodes.length + ELEMENTS.ways.length + ELEMENTS.relations.length);
    expectSame(readAll(encodeTown()), theirs);
  });

  it('agrees element for element on a real extract', async () => {
    const ours = readAll(real);
    expectSame(ours, await readTheirs(real));
    const count = (type: string) => ours.filter((element) => element.type === type).length;
    // osmium fileinfo -e
    expect([count('node'), count('way'), count('relation')]).toEqual([7532, 557, 3]);
  });

  it('keeps of the real extract what osmium finds by the same tags', async () => {
    const result = await readExtract(Readable.from([real]), { name: 'liechtenstein.osm.pbf' });
    if (!result.ok) throw new Error(JSON.stringify(result.refusal));
    const { source, ways, nodes, relations } = result.value;
    expect(source).toEqual({
      format: 'osm-pbf',
      generator: 'osmium/1.15.0',
      timestamp: '2013-08-03T19:00:02Z',
    });
    // osmium tags-filter -R … w/highway,tunnel=…, and by id
    expect(
      ways.filter(({ tags }) => tags.highway !== undefined && tags.tunnel === 'yes').map(({ id }) => id),
    ).toEqual([870, 1836, 5998, 7073]);
    expect(relations.map(({ id }) => id)).toEqual([106, 111, 113]);
    const isRoad = ({ tags }: { tags: Tags }) => findRoadClass(tags) !== undefined;
    // osmium tags-filter -R … w/highway=motorway,motorway_link,… with the classes of read-highway.ts
    expect(ways.filter(isRoad)).toHaveLength(296);
    const used = new Set(ways.flatMap((each) => each.nodes));
    expect(nodes.filter(({ id }) => used.has(id))).toHaveLength(used.size);
  });

  it('answers to the real extract cut anywhere', async () => {
    const offsets = fc.sample(fc.integer({ min: 1, max: real.length - 1 }), { seed: 11, numRuns: 400 });
    for (const length of offsets) {
      const cut = await readExtract(Readable.from([real.subarray(0, length)]), { name: 'cut.osm.pbf' });
      expect(cut).toMatchObject({ ok: false, refusal: { code: 'input-truncated' } });
    }
  });
});
