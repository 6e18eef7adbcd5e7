import { describe, expect, it } from 'vitest';
import { toCsv } from './to-csv.ts';

const cellOf = (value: unknown) =>
  toCsv([{ a: value }], ['a'])
    .split('\r\n')
    .slice(1)
    .join('\r\n')
    .slice(0, -2);

describe('toCsv', () => {
  it('writes the header first, lines with CRLF, and nothing for what is missing', () => {
    expect(toCsv([{ a: 1, b: 'x' }, { b: null }], ['a', 'b'])).toBe('a,b\r\n1,x\r\n,\r\n');
  });

  // RFC 4180, sections 2.5 to 2.7.
  it.each([
    ['a,b', '"a,b"'],
    ['say "hi"', '"say ""hi"""'],
    ['two\nlines', '"two\nlines"'],
    ['plain', 'plain'],
    [-1.5, '-1.5'],
    [true, 'true'],
    [[1, 2], '1 2'],
  ])('%j becomes %s', (value, cell) => {
    expect(cellOf(value)).toBe(cell);
  });

  it.each(['=1+1', '+1', '-1 Tunnel', '@sum', '\t=1', '\r=1', '\n=1', '＝1+1', '＋1', '－1', '＠sum'])(
    'keeps a spreadsheet from running %j',
    (text) => {
      expect(cellOf(text).replace(/^"/, '')).toMatch(/^'/);
      expect(cellOf([text]).replace(/^"/, '')).toMatch(/^'/);
    },
  );
});
