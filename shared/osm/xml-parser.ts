import { SaxesParser } from 'saxes';
import { RefusalError } from '../outcome/refusal.ts';
import { withPlace } from './with-place.ts';

/** Bytes that are given to the parser at once, so that its buffers stay small whatever the pieces. */
const PIECE_BYTES = 1 << 16;
const MAX_TOKEN = 1 << 20;

export type XmlEvents = {
  open(name: string, attributes: Readonly<Record<string, string>>): void;
  /** Only called inside the element that `hears` names. */
  text(text: string): void;
  close(): void;
  readonly hears: string;
};

/**
 * Makes a parser of UTF-8 bytes that guards against what an honest file never holds. Refuses 'input-entities' for a
 * document type declaration, 'input-damaged' with line and column where the text is not well-formed, not UTF-8 or
 * holds a single token above 1 MiB, and 'input-truncated' where it ends early.
 */
export function makeXmlParser(events: XmlEvents): { push(chunk: Uint8Array): void; end(): void } {
  const parser = new SaxesParser();
  const guard = makeTokenGuard(parser);
  const text = new TextDecoder('utf-8', { fatal: true });
  let ending = false;
  parser.on('error', () => {
    if (ending) throw new RefusalError('input-truncated', { where: guard.place() });
    throw new RefusalError('input-damaged');
  });
  parser.on('doctype', () => {
    throw new RefusalError('input-entities');
  });
  parser.on('opentag', ({ name, attributes }) => {
    // Listening to texts costs time, so it begins where one matters.
    if (name === events.hears) parser.on('text', events.text);
    guard.endToken(name === events.hears);
    events.open(name, attributes);
  });
  parser.on('closetag', () => {
    guard.endToken();
    events.close();
  });
  parser.on('comment', () => guard.endToken());
  parser.on('processinginstruction', () => guard.endToken());
  return {
    push(chunk) {
      try {
        for (let at = 0; at < chunk.length; at += PIECE_BYTES) {
          guard.write(decode(text, chunk.subarray(at, at + PIECE_BYTES)));
        }
      } catch (error) {
        throw withPlace(error, guard.place());
      }
    },
    end() {
      ending = true;
      if (!isComplete(text)) throw new RefusalError('input-truncated', { where: guard.place() });
      guard.close();
    },
  };
}

/**
 * Knows where the parser is, and how much it holds on to: a token until it is complete, but not plain text that
 * nobody hears, so that a document may be full of blanks.
 */
function makeTokenGuard(parser: SaxesParser) {
  let written = 0;
  let writing = false;
  let tokenStart = 0;
  let isHeard = false;
  let isHeld = false;
  return {
    /** Between two writes the parser counts its last piece twice; then the guard's own count serves. */
    place(): string {
      const column = writing ? parser.columnIndex : written - (parser.position - parser.columnIndex);
      return `line ${parser.line}, column ${column}`;
    },
    endToken(beginsText = false): void {
      tokenStart = parser.position;
      isHeard ||= beginsText;
      isHeld = isHeard;
    },
    write(characters: string): void {
      if (characters === '') return;
      writing = true;
      parser.write(characters);
      writing = false;
      written += characters.length;
      isHeld ||= /[<&]/.test(characters.slice(Math.max(0, characters.length - (written - tokenStart))));
      if (!isHeld || written - tokenStart <= MAX_TOKEN) return;
      throw new RefusalError('input-damaged', { where: 'more than 1 MiB without an element' });
    },
    close(): void {
      writing = true;
      parser.close();
    },
  };
}

function decode(text: TextDecoder, piece: Uint8Array): string {
  try {
    return text.decode(piece, { stream: true });
  } catch {
    throw new RefusalError('input-damaged', { where: 'a character that is not UTF-8' });
  }
}

/** Whether the last character was whole. */
function isComplete(text: TextDecoder): boolean {
  try {
    text.decode();
    return true;
  } catch {
    return false;
  }
}
