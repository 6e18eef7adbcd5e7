import { describe, expect, it } from 'vitest';
import { decodeText } from './decode-text.ts';

const bytes = (...values: number[]) => Uint8Array.from(values);

describe('decodeText', () => {
  it('takes UTF-8 where it is valid, without its mark', () => {
    expect(decodeText(bytes(0x5a, 0xc3, 0xbc))).toBe('Zü');
    expect(decodeText(bytes(0xef, 0xbb, 0xbf, 0x41))).toBe('A');
  });

  it('takes UTF-16 by its mark', () => {
    expect(decodeText(bytes(0xff, 0xfe, 0xfc, 0x00))).toBe('ü');
    expect(decodeText(bytes(0xfe, 0xff, 0x20, 0x13))).toBe('–');
  });

  // The index of windows-1252, https://encoding.spec.whatwg.org/index-windows-1252.txt
  it('takes anything else for Windows-1252, its dashes, quotes and € too', () => {
    expect(decodeText(bytes(0xfc, 0x80, 0x8a, 0x92, 0x96, 0x9f, 0xff))).toBe('ü€Š’–Ÿÿ');
    const all = decodeText(Uint8Array.from({ length: 32 }, (_, i) => 0x80 + i));
    expect([...all].filter((char) => char < '\u00a0')).toEqual([...'\u0081\u008d\u008f\u0090\u009d']);
  });
});
