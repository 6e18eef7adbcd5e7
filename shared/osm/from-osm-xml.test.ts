import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decode, outcome } from '../../tests/osm-fixtures/decode.ts';
import { TOWN, TOWN_XML } from '../../tests/osm-fixtures/tunnel-town.ts';
import { fromOsmXml } from './from-osm-xml.ts';

const read = (input: string | Uint8Array, size?: number) => decode(fromOsmXml(), input, size);
const osm = (inside: string) => `<osm version="0.6">${inside}</osm>`;

describe('fromOsmXml', () => {
  it('reads a document, in pieces of any size', () => {
    for (const size of [1, 2, 3, 7, 100, 100_000])
      expect(read(TOWN_XML, size)).toEqual({ ok: true, value: TOWN });
  });

  it('takes a byte order mark and no XML declaration', () => {
    expect(read(`\uFEFF${TOWN_XML}`)).toEqual({ ok: true, value: TOWN });
    expect(outcome(read(osm('')))).toBe('ok');
  });

  it('reads what an Overpass server writes into XML', () => {
    const result = read(
      `<osm generator="Overpass API"><note>The data …</note><meta osm_base="2026-01-02T03:04:05Z"/>
       <way id="1"><bounds minlat="0"/><nd ref="5" lat="1.5" lon="2.5"/><nd ref="6"/><tag k="highway" v="primary"/></way>
       <relation id="2"><member type="node" ref="7" role="via" lat="3" lon="4"/><tag k="type" v="restriction"/></relation>
       <node id="7" lat="3" lon="4"><tag k="emergency" v="phone"/></node><node id="8"/></osm>`,
    );
    expect(result).toEqual({
      ok: true,
      value: {
        source: { format: 'osm-xml', generator: 'Overpass API', timestamp: '2026-01-02T03:04:05Z' },
        nodes: [
          { id: 5, lon: 2.5, lat: 1.5 },
          { id: 7, lon: 4, lat: 3, tags: { emergency: 'phone' } },
        ],
        ways: [{ id: 1, nodes: [5, 6], tags: { highway: 'primary' } }],
        relations: [
          { id: 2, members: [{ type: 'node', ref: 7, role: 'via' }], tags: { type: 'restriction' } },
        ],
      },
    });
  });

  it('leaves out what an editor has deleted', () => {
    const way = (attributes: string) => osm(`<way id="1" ${attributes}><tag k="highway" v="primary"/></way>`);
    for (const attributes of ['action="delete"', 'visible="false"']) {
      expect(read(way(attributes))).toMatchObject({ ok: true, value: { ways: [] } });
    }
    for (const attributes of ['action="modify"', 'visible="true"']) {
      expect(read(way(attributes))).toMatchObject({ ok: true, value: { ways: [{ id: 1 }] } });
    }
  });

  it('finds every cut', () => {
    const bytes = new TextEncoder().encode(TOWN_XML.trimEnd());
    for (let length = 0; length < bytes.length; length += 1) {
      expect(outcome(read(bytes.subarray(0, length)))).toMatch(/^input-truncated: line \d+, column \d+$/);
    }
  });

  const laughs = `<!DOCTYPE osm [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>${osm('<node id="1" lat="1" lon="1"><tag k="name" v="&b;"/></node>')}`;
  const outside = `<!DOCTYPE osm [<!ENTITY x SYSTEM "file:///etc/hostname">]>${osm('<note>&x;</note>')}`;
  it.each([
    ['a nested entity', laughs, 'input-entities'],
    ['an entity from outside', outside, 'input-entities'],
    ['a document type', `<!DOCTYPE osm SYSTEM "osm.dtd">${osm('')}`, 'input-entities'],
    ['an entity that nobody defined', osm('<note>&b;</note>'), 'input-damaged: line 1, column 28'],
    ['a tag that closes another', '<osm>\n  <node></way>\n</osm>', 'input-damaged: line 2, column 14'],
    ['an attribute twice', osm('<node id="1" id="2"/>'), 'input-damaged: line 1, column 40'],
    ['text after the end', `${osm('')}x`, 'input-damaged: line 1, column 27'],
    ['a web page', '<html><body>504</body></html>', 'input-html'],
    ['a change file', '<osmChange></osmChange>', 'input-unknown-format'],
    ['another kind of XML', '<gpx></gpx>', 'input-unknown-format'],
    [
      'a position that is no number',
      osm('<node id="9" lat="x" lon="1"/>'),
      'input-coordinates: node/9: NaN, 1',
    ],
    ['half a position', osm('<node id="9" lat="1"/>'), 'input-coordinates: node/9: 1, NaN'],
    [
      'a projected position',
      osm('<node id="9" lat="5800000" lon="1"/>'),
      'input-coordinates: node/9: 5800000, 1',
    ],
    [
      'an id that is no number',
      osm('<way id="1e3"/>'),
      'input-damaged: line 1, column 34: 1e3 instead of an id',
    ],
    [
      'a node without a number',
      osm('<way id="1"><nd/></way>'),
      /^input-damaged: .*nothing instead of an id$/,
    ],
    [
      'a tag without a value',
      osm('<way id="1"><tag k="a"/></way>'),
      /^input-damaged: .*way\/1: a tag without k or v$/,
    ],
    [
      'a member of no kind',
      osm('<relation id="1"><member ref="1"/></relation>'),
      /^input-damaged: .*of no kind$/,
    ],
    ['deep nesting', '<a>'.repeat(100), 'input-unknown-format'],
    ['deep nesting inside', osm('<a>'.repeat(100)), /^input-damaged: .*nested too deep$/],
  ])('refuses %s', (_, input, expected) => {
    const result = outcome(read(input));
    if (expected instanceof RegExp) expect(result).toMatch(expected);
    else expect(result).toBe(expected);
  });

  it('refuses a server’s complaint, with its words', () => {
    const text = 'runtime error: Query timed out in "query" at line 3 after 26 seconds.';
    for (const size of [5, 1000]) {
      expect(read(osm(`<node id="1" lat="1" lon="1"/><remark> ${text} </remark>`), size)).toEqual({
        ok: false,
        refusal: { code: 'overpass-remark', context: { remark: text } },
      });
    }
  });

  it('takes an empty complaint as none', () => {
    expect(outcome(read(osm('<remark/><note>x</note><remark> </remark>')))).toBe('ok');
    expect(outcome(read(osm('<note><remark>x</remark></note>')))).toBe('ok');
  });

  it.each([
    ['the words of a complaint', (x: string) => osm(`<remark>${x}</remark>`)],
    ['an entity', (x: string) => osm(`<note>&${x};</note>`)],
    ['an attribute', (x: string) => osm(`<node id="${x}"/>`)],
    ['a name', (x: string) => osm(`<${x}/>`)],
    ['a comment', (x: string) => osm(`<!--${x}-->`)],
    ['a CDATA section', (x: string) => osm(`<note><![CDATA[${x}]]></note>`)],
    ['a document type', (x: string) => `<!DOCTYPE ${x}>`],
    ['an instruction', (x: string) => osm(`<?x ${x}?>`)],
  ])('refuses %s above 1 MiB, and takes one well below', (_, make) => {
    expect(outcome(read(make('x'.repeat(1_200_000))))).toMatch(
      /^input-(?:damaged: line 1, .*more than 1 MiB|entities)/,
    );
    expect(outcome(read(make('x'.repeat(500_000))))).not.toMatch(/1 MiB/);
  });

  it('takes much that is not an element as long as elements come in between', () => {
    const gap = `<!--${'x'.repeat(400_000)}--><node id="1" lat="1" lon="1"/>${' '.repeat(400_000)}`;
    expect(outcome(read(osm(gap.repeat(5))))).toBe('ok');
    expect(outcome(read(osm(`${' '.repeat(3_000_000)}<note>${'x'.repeat(3_000_000)}</note>`)))).toBe('ok');
  });

  it('refuses one element that is too large, before it is complete', () => {
    const start = '<osm><way id="1">';
    expect(outcome(read(start + '<nd ref="1"/>'.repeat(1_000_001)))).toMatch(
      /more than 1,000,000 nodes in one way$/,
    );
    const tags = Array.from({ length: 5001 }, (_, index) => `<tag k="${index}" v=""/>`).join('');
    expect(outcome(read(start + tags))).toMatch(/more than 5,000 tags$/);
    const members = '<member type="way" ref="1"/>'.repeat(200_001);
    expect(outcome(read(`<osm><relation id="1">${members}`))).toMatch(
      /more than 200,000 members in one relation$/,
    );
  });

  it('refuses what is not UTF-8, and a character cut in half at the end', () => {
    const bytes = new TextEncoder().encode(osm('<note>ä</note>'));
    const at = bytes.indexOf(0xc3);
    const latin = Uint8Array.from(bytes.filter((_, index) => index !== at));
    expect(outcome(read(latin))).toMatch(/^input-damaged: .*not UTF-8$/);
    expect(outcome(read(bytes.subarray(0, at + 1)))).toMatch(/^input-truncated/);
  });

  it('gives an answer to any bytes', () => {
    const pieces = fc.constantFrom(
      '<osm>',
      '<',
      '>',
      '/',
      '"',
      '<way id="1">',
      '</way>',
      '&',
      ';',
      '<!',
      '[',
      '-->',
      '=',
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(pieces, fc.string()), { maxLength: 30 }), (parts) => {
        expect(read(parts.join('')).ok).toBeTypeOf('boolean');
      }),
      { seed: 2, numRuns: 1000 },
    );
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), fc.integer({ min: 1, max: 50 }), (bytes, size) => {
        expect(read(bytes, size)).toMatchObject({ ok: false });
      }),
      { seed: 3, numRuns: 1000 },
    );
  });
});
