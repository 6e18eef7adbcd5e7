import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { escapeXml } from './escape-xml.ts';

/** What a parser makes of the text of an element and of an attribute. */
function readBack(text: string): { inside: string; attribute: string } {
  const read = { inside: '', attribute: '' };
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('text', (piece) => {
    read.inside += piece;
  });
  parser.on('opentag', ({ attributes }) => {
    read.attribute = String(attributes.a);
  });
  parser.write(`<e a="${escapeXml(text)}">${escapeXml(text)}</e>`).close();
  return read;
}

describe('text in XML', () => {
  it.each(['a & b < c > d', `"quoted" and 'quoted'`, ']]>', '<script>x</script>', 'Túnel 東京 🚇', '&amp;'])(
    '%j is read as it was',
    (text) => {
      expect(readBack(text)).toEqual({ inside: text, attribute: text });
    },
  );

  it.each([
    ['a\u0000b\u001Fc', 'abc'],
    ['half \uD83D pair', 'half  pair'],
    ['none \uFFFF', 'none '],
  ])('%j loses what XML cannot hold', (text, wanted) => {
    expect(readBack(text).inside).toBe(wanted);
  });
});
