import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { createGzip, gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import type { Result } from '../../shared/outcome/result.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import {
  blob,
  concat,
  denseNodes,
  bytes as field,
  header,
  makeTexts,
  way,
} from '../../tests/osm-fixtures/encode-pbf.ts';
import { type ReadExtractOptions, readExtract, readExtractFile } from './read-extract.ts';

const XML = `<?xml version='1.0' encoding='UTF-8'?>
<osm version="0.6"><node id="1" lat="46" lon="-20"/><node id="2" lat="46.01" lon="-20"/>
<way id="3"><nd ref="1"/><nd ref="2"/><tag k="highway" v="primary"/></way></osm>
`;
// The text above by bzip2 -9, in one stream, and in two streams that were packed apart and joined.
const XML_BZ2 = fromBase64(
  'QlpoOTFBWSZTWYzg7rAAAChfgAAQUIP9R4EABgAv793gIACSCUknqNlG0GpkYBDyjaQan6pPRTQ0PUZoEyNABJzXr9z1JYo004SK6bVyez4Mkq4vTEzYr6YxZyuWtToBjiKaHXQKLFMSA7Os6Ae13+QwwzzxJAFluu3JzdCSOSKfUebkO5Aixj7p0/N6yF1KCYZxSDrhahxJ4sX5r7HDR9ZQTDOiKsbjzJ1fxdyRThQkIzg7rAA=',
);
const XML_BZ2_TWICE = fromBase64(
  'QlpoOTFBWSZTWQYLX5IAABtfgAAQUIP1R4EABgAup51AIAB0EqTCaaA0ANNBkGqfpTEDR6TQBoAUM0DQJSfaViFBmCIl5pGLnOYKBBCZ3pAERaVPeURRA+Ex24sTbxzBW47s8RcRkMSKkdqBM2h668cStFi2Exsyw0/F3JFOFCQBgtfkgEJaaDkxQVkmU1kgU2F2AAAO2YAAEFAAuAcn692gIABIaKaB+pMmgNpPSETQCekwEwT0N6TGcBqZJsoySQVCgjQR6fyfBUPjdGDOGDQOdbck24CT2AZG1Yk5gEPRdyRThQkCBTYXYA==',
);
// By bzip2 -9: 45,000,000 zeros; one opening bracket; 45,000,000 blanks.
const ZEROS_BZ2 = fromBase64('QlpoOTFBWSZTWckBtsgBWKtAIMAAEAAACCAAMMwFKaZSSFJsVJIUni7kinChIZIDbZA=');
const BRACKET_BZ2 = fromBase64('QlpoOTFBWSZTWXoIls0AAAAAgAAIIAAhGEaC7kinChIPQRLZoA==');
const BLANKS_BZ2 = fromBase64('QlpoOTFBWSZTWUYu4qMBWKsQIMAAEAAACCAAMMwFKaZSSFJsVJIUni7kinChIIxdxUY=');
const JSON_TEXT = JSON.stringify({
  elements: [
    { type: 'node', id: 1, lat: 46, lon: -20 },
    { type: 'node', id: 2, lat: 46.01, lon: -20 },
    { type: 'way', id: 3, nodes: [1, 2], tags: { highway: 'primary' } },
  ],
});

const CONTENT = {
  nodes: [
    { id: 1, lat: 46, lon: -20 },
    { id: 2, lat: 46.01, lon: -20 },
  ],
  ways: [{ id: 3, nodes: [1, 2], tags: { highway: 'primary' } }],
  relations: [],
};

function fromBase64(text: string): Uint8Array {
  return Buffer.from(text, 'base64');
}

function encodePbf(): Uint8Array {
  const texts = makeTexts();
  const group = field(2, [
    ...denseNodes(CONTENT.nodes, texts),
    ...way(3, [1, 2], { highway: 'primary' }, texts),
  ]);
  return concat(header(), blob('OSMData', [...texts.field(), ...group]));
}

const utf8 = (text: string) => new TextEncoder().encode(text);
const PBF = encodePbf();

async function* pieces(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

function read(
  bytes: Uint8Array,
  options: Partial<ReadExtractOptions> = {},
  size = 65_536,
): Promise<Result<OsmExtract>> {
  return readExtract(pieces(bytes, size), { name: 'city.osm', ...options });
}

const code = (result: Result<OsmExtract>) => (result.ok ? 'ok' : result.refusal.code);

describe('readExtract, by content', () => {
  it.each([
    ['OSM XML', utf8(XML), 'osm-xml'],
    ['OSM XML with a mark', utf8(`\uFEFF${XML.slice(XML.indexOf('<osm'))}`), 'osm-xml'],
    ['Overpass JSON', utf8(JSON_TEXT), 'overpass-json'],
    ['Overpass JSON with a mark', utf8(`\uFEFF${JSON_TEXT}`), 'overpass-json'],
    ['OSM PBF', PBF, 'osm-pbf'],
    ['gzip of XML', gzipSync(XML), 'osm-xml'],
    ['gzip of JSON', gzipSync(JSON_TEXT), 'overpass-json'],
    ['gzip of PBF', gzipSync(PBF), 'osm-pbf'],
    ['gzip in two members', Buffer.concat([gzipSync(XML.slice(0, 99)), gzipSync(XML.slice(99))]), 'osm-xml'],
    ['bzip2 of XML', XML_BZ2, 'osm-xml'],
    ['bzip2 in two streams', XML_BZ2_TWICE, 'osm-xml'],
  ])('reads %s', async (_, bytes, format) => {
    for (const size of [1, 5, 65_536]) {
      expect(await read(bytes, { name: 'misleading.txt' }, size)).toMatchObject({
        ok: true,
        value: { ...CONTENT, source: { format } },
      });
    }
  });

  it('reads streams of bytes, of texts, and of the web', async () => {
    const texts = Readable.from([XML.slice(0, 50), XML.slice(50)]);
    const web = new Response(XML).body as unknown as AsyncIterable<Uint8Array>;
    for (const source of [Readable.from([Buffer.from(XML)]), texts, web]) {
      expect(await readExtract(source, { name: 'x' })).toMatchObject({ ok: true, value: CONTENT });
    }
  });

  it('reports the bytes read, packed as they are', async () => {
    const seen: number[] = [];
    await read(gzipSync(XML), { onProgress: (bytes) => seen.push(bytes) }, 100);
    expect(seen.at(0)).toBe(100);
    expect(seen.at(-1)).toBe(gzipSync(XML).length);
    expect(seen).toEqual(seen.toSorted((a, b) => a - b));
  });
});

describe('readExtract refuses', () => {
  const utf16 = Uint8Array.from([0xff, 0xfe, ...Buffer.from(XML, 'utf16le')]);
  it.each([
    ['an empty file', new Uint8Array(0), 'input-empty'],
    ['an empty file, packed', gzipSync(''), 'input-empty'],
    ['a web page', utf8('<!DOCTYPE html>\n<html><head><title>504</title>'), 'input-html'],
    ['a web page, packed', gzipSync('\uFEFF <HTML>'), 'input-html'],
    [
      'a page with an XML declaration',
      utf8('<?xml version="1.0"?><!DOCTYPE html PUBLIC "a" "b"><html/>'),
      'input-html',
    ],
    ['UTF-16', utf16, 'input-unknown-format'],
    ['UTF-16 without a mark', utf16.subarray(2), 'input-unknown-format'],
    ['blanks', utf8(' \n \n'), 'input-unknown-format'],
    ['a picture', utf8('\x89PNG\r\n'), 'input-unknown-format'],
    ['gzip in gzip', gzipSync(gzipSync(XML)), 'input-unknown-format'],
    [
      'XML with a document type',
      utf8(XML.replace('<osm', '<!DOCTYPE osm [<!ENTITY a "b">]><osm')),
      'input-entities',
    ],
    ['XML without its end', utf8(XML.trimEnd().slice(0, -2)), 'input-truncated'],
    ['a position off the globe', utf8(XML.replace('lat="46"', 'lat="5200000"')), 'input-coordinates'],
    ['a server’s complaint', utf8('{"elements":[],"remark":"runtime error"}'), 'overpass-remark'],
    [
      'damaged gzip',
      Buffer.concat([gzipSync(XML).subarray(0, 10), Buffer.alloc(100, 0xff)]),
      'input-damaged',
    ],
  ])('%s', async (_, bytes, expected) => {
    const result = await read(bytes);
    expect(code(result)).toBe(expected);
    if (!result.ok) expect(describeRefusal(result.refusal)).not.toMatch(/unknown|undefined/);
  });

  it('names the file and the place', async () => {
    expect(await read(utf8('<osm>\n<node></way></osm>'), { name: 'town.osm' })).toEqual({
      ok: false,
      refusal: { code: 'input-damaged', context: { name: 'town.osm', where: 'line 2, column 12' } },
    });
  });

  it.each([
    ['gzip', gzipSync(XML), 2],
    ['bzip2', XML_BZ2, 3],
  ])('%s that was cut anywhere', async (_, bytes, from) => {
    for (let length = from; length < bytes.length; length += 1) {
      expect(code(await read(bytes.subarray(0, length)))).toBe('input-truncated');
    }
  });

  it.each([
    ['gzip', gzipSync(XML)],
    ['bzip2', XML_BZ2],
  ])('%s with a wrong byte anywhere, or is not misled by it', async (_, bytes) => {
    let refused = 0;
    for (let at = 0; at < bytes.length; at += 1) {
      const damaged = Uint8Array.from(bytes);
      damaged[at] = (damaged[at] as number) ^ 0x55;
      const result = await read(damaged);
      if (result.ok) expect(result.value).toMatchObject(CONTENT);
      else refused += 1;
    }
    expect(refused).toBeGreaterThan(bytes.length * 0.8);
  });

  it('more bytes than allowed, packed or not', async () => {
    expect(await read(utf8(XML), { maxBytes: 2 ** 7 }, 50)).toMatchObject({
      ok: false,
      refusal: { code: 'input-too-large', context: { limit: `${2 ** 7 / 2 ** 20} MB` } },
    });
    expect(code(await read(utf8(XML), { maxBytes: XML.length }, 50))).toBe('ok');
  });

  it('answers to any bytes', async () => {
    const start = fc.constantFrom(
      '',
      '\x1f\x8b\x08\0',
      'BZh9',
      'BZh91AY&SY',
      '<',
      '{',
      '\0\0\0\x0e\n\x09OSMHeader',
    );
    const input = fc.tuple(start, fc.uint8Array({ maxLength: 200 }), fc.integer({ min: 1, max: 100 }));
    await fc.assert(
      fc.asyncProperty(input, async ([head, tail, size]) => {
        expect((await read(Buffer.concat([Buffer.from(head, 'latin1'), tail]), {}, size)).ok).toBe(false);
      }),
      { seed: 10, numRuns: 1500 },
    );
  });
});

describe('readExtract and files that expand', () => {
  const MIB = 2 ** 20;

  /** One GiB behind a prefix, packed while it is read. */
  function gzipBomb(prefix: string, fill: number): Readable {
    const chunk = Buffer.alloc(MIB, fill);
    const plain = function* () {
      yield Buffer.from(prefix);
      for (let index = 0; index < 1024; index += 1) yield chunk;
    };
    return Readable.from(plain()).pipe(createGzip({ level: 9 }));
  }

  async function* bzip2Bomb(first: readonly Uint8Array[], repeated: Uint8Array): AsyncGenerator<Uint8Array> {
    yield* first;
    for (let index = 0; index < 24; index += 1) yield repeated;
  }

  /** The refusal, and by how many MiB the process grew meanwhile at the most. */
  async function measure(source: Readable | AsyncIterable<Uint8Array>) {
    const before = process.memoryUsage.rss();
    let most = before;
    const watch = () => {
      most = Math.max(most, process.memoryUsage.rss());
    };
    const timer = setInterval(watch, 5);
    const result = await readExtract(source, { name: 'bomb.osm.gz', onProgress: watch });
    clearInterval(timer);
    watch();
    return { result, grownMiB: (most - before) / MIB };
  }

  const start = XML.slice(0, XML.indexOf('<way'));
  it.each([
    ['zeros', () => gzipBomb('', 0), 'input-unknown-format'],
    ['a bracket and blanks', () => gzipBomb('{', 0x20), 'input-expands-too-far'],
    ['the start of a JSON text', () => gzipBomb('{"elements":[{"type":"', 0x61), 'input-damaged'],
    ['the start of another JSON text', () => gzipBomb('{"version":"', 0x61), 'input-unknown-format'],
    ['JSON lists in lists', () => gzipBomb('{"elements":[{"a":', 0x5b), 'input-damaged'],
    ['the start of XML and blanks', () => gzipBomb(start, 0x20), 'input-expands-too-far'],
    ['the start of an XML text', () => gzipBomb(`${start}<note>`, 0x61), 'input-expands-too-far'],
    ['the start of an XML attribute', () => gzipBomb(`${start}<note a="`, 0x61), 'input-damaged'],
    ['the start of an XML name', () => gzipBomb(`${start}<`, 0x61), 'input-damaged'],
    ['bzip2 of zeros', () => bzip2Bomb([], ZEROS_BZ2), 'input-unknown-format'],
    ['bzip2 of a bracket and blanks', () => bzip2Bomb([BRACKET_BZ2], BLANKS_BZ2), 'input-expands-too-far'],
  ])('refuses %s', async (_, bomb, expected) => {
    const source = bomb();
    const { result, grownMiB } = await measure(source);
    expect(code(result)).toBe(expected);
    expect(grownMiB).toBeLessThan(400);
    if (source instanceof Readable) expect(source.destroyed).toBe(true);
  });

  it('refuses gzip within the ratio’s free part by what it holds', async () => {
    const small = gzipSync(Buffer.concat([Buffer.from(XML), Buffer.alloc(20 * MIB, 0x20)]));
    expect(20 * MIB).toBeGreaterThan(300 * small.length);
    expect(code(await read(small))).toBe('ok');
    expect(code(await read(gzipSync(`${XML}${' '.repeat(20 * MIB)}x`)))).toBe('input-damaged');
  });

  it('reads a large, well packed, honest file, in little memory', async () => {
    const nodes = function* () {
      yield '<osm>';
      for (let first = 1; first < 600_000; first += 1000) {
        const ids = Array.from({ length: 1000 }, (_, index) => first + index);
        yield ids.map((id) => `<node id="${id}" lat="46.1" lon="-20.${id}"/>\n`).join('');
      }
      yield '<way id="1"><nd ref="5"/><nd ref="600000"/><tag k="highway" v="road"/></way></osm>';
    };
    const { result, grownMiB } = await measure(Readable.from(nodes()).pipe(createGzip()));
    expect(result).toMatchObject({ ok: true, value: { nodes: [{ id: 5 }, { id: 600_000 }] } });
    expect(grownMiB).toBeLessThan(400);
  });
});

describe('readExtract and its source', () => {
  /** Yields, then is silent for ever; `closed` tells whether it was let go. */
  function makeSilent(first: Uint8Array) {
    const silent = new Readable({ read() {} });
    silent.push(first);
    return silent;
  }

  it('stops when it is cancelled: before, between, and while the source is silent', async () => {
    const before = AbortSignal.abort();
    expect(code(await read(utf8(XML), { signal: before }))).toBe('job-cancelled');

    const between = new AbortController();
    const onProgress = (bytes: number) => {
      if (bytes > 100) between.abort();
    };
    expect(code(await read(utf8(XML), { signal: between.signal, onProgress }, 40))).toBe('job-cancelled');

    for (const first of [
      utf8(XML.slice(0, 100)),
      gzipSync(XML).subarray(0, 30),
      XML_BZ2.subarray(0, 50),
      PBF.subarray(0, 20),
    ]) {
      const source = makeSilent(first);
      const later = new AbortController();
      setTimeout(() => later.abort(), 20);
      expect(code(await readExtract(source, { name: 'x', signal: later.signal }))).toBe('job-cancelled');
      expect(source.destroyed).toBe(true);
    }
  });

  it('closes what it was given: read, refused, and silent after a refusal', async () => {
    const whole = Readable.from([Buffer.from(XML)]);
    await readExtract(whole, { name: 'x' });
    expect(whole.destroyed).toBe(true);

    const silent = makeSilent(Buffer.concat([gzipSync('<html>'.padEnd(5000)), Buffer.alloc(0)]));
    expect(code(await readExtract(silent, { name: 'x' }))).toBe('input-html');
    expect(silent.destroyed).toBe(true);

    let closed = false;
    const generator = async function* () {
      try {
        for (;;) yield utf8('<html>'.padEnd(5000));
      } finally {
        closed = true;
      }
    };
    expect(code(await readExtract(generator(), { name: 'x' }))).toBe('input-html');
    await new Promise((resolve) => setImmediate(resolve));
    expect(closed).toBe(true);
  });

  it('refuses a source that fails, also when it fails again after it was closed', async () => {
    const failing = (error: Error) =>
      new Readable({
        read() {
          this.destroy(error);
        },
      });
    const broken = Object.assign(new Error('read'), { code: 'EACCES' });
    expect(await readExtract(failing(broken), { name: 'x' })).toEqual({
      ok: false,
      refusal: { code: 'input-not-readable', context: { name: 'x', reason: 'reading it is not permitted' } },
    });
    const half = async function* () {
      yield gzipSync(XML).subarray(0, 60);
      throw new Error('connection lost');
    };
    expect(await readExtract(half(), { name: 'x' })).toMatchObject({
      ok: false,
      refusal: { code: 'input-not-readable', context: { reason: 'connection lost' } },
    });
    const late = Readable.from([utf8(XML)]);
    expect(code(await readExtract(late, { name: 'x', signal: AbortSignal.abort() }))).toBe('job-cancelled');
    expect(late.destroyed).toBe(true);
    late.emit('error', new Error('too late'));
    const missing = await readExtractFile('/nowhere/at/all', { signal: AbortSignal.abort() });
    expect(code(missing)).toBe('job-cancelled');
    await new Promise((resolve) => setTimeout(resolve, 20));
  });
});

describe('readExtractFile', () => {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'extracts-'));
    await writeFile(join(folder, 'town.osm.bz2'), gzipSync(JSON_TEXT));
  });
  afterAll(() => rm(folder, { recursive: true }));

  it('reads a file, whatever its name says', async () => {
    expect(await readExtractFile(join(folder, 'town.osm.bz2'))).toMatchObject({ ok: true, value: CONTENT });
  });

  it.each([
    ['nothing.osm', 'nothing.osm', 'there is no such file'],
    ['.', undefined, 'it is a folder'],
    ['town.osm.bz2/x', 'x', 'part of its path is not a folder'],
  ])('refuses %s', async (path, name, reason) => {
    const result = await readExtractFile(join(folder, path));
    expect(result).toMatchObject({ ok: false, refusal: { code: 'input-not-readable', context: { reason } } });
    if (name !== undefined && !result.ok) {
      expect(describeRefusal(result.refusal)).toBe(`${name} cannot be opened: ${reason}.`);
    }
  });
});
