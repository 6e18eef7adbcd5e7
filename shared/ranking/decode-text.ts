/**
 * Text of a file whose encoding nobody told: UTF-8 or UTF-16 by its byte order mark, else UTF-8, else Windows-1252,
 * which spreadsheets write and in which every byte means something. The mark is left out.
 */
export function decodeText(bytes: Uint8Array): string {
  const marked = MARKS.find(({ mark }) => mark.every((byte, i) => bytes[i] === byte));
  if (marked !== undefined) return new TextDecoder(marked.encoding).decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes).replace(/[\u0080-\u009f]/g, toPrinted);
  }
}

const MARKS = [
  { mark: [0xef, 0xbb, 0xbf], encoding: 'utf-8' },
  { mark: [0xff, 0xfe], encoding: 'utf-16le' },
  { mark: [0xfe, 0xff], encoding: 'utf-16be' },
];

/** What Windows-1252 has from 0x80 on, by the WHATWG Encoding Standard; some decoders leave the controls of Latin-1 there. */
const PRINTED = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

function toPrinted(control: string): string {
  return PRINTED[control.charCodeAt(0) - 0x80] ?? control;
}
