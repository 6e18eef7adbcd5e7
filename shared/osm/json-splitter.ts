import { RefusalError } from '../outcome/refusal.ts';
import { parseRun } from './json-run.ts';

const QUOTE = 0x22;
const COMMA = 0x2c;
const OPEN_LIST = 0x5b;
const BACKSLASH = 0x5c;
const CLOSE_LIST = 0x5d;
const OPEN_OBJECT = 0x7b;
const CLOSE_OBJECT = 0x7d;
const BYTE_ORDER_MARK: readonly number[] = [0xef, 0xbb, 0xbf];

/** 1 for the bytes that mean something outside of a text. */
const MATTERS = new Uint8Array(256);
for (const byte of [QUOTE, OPEN_LIST, CLOSE_LIST, OPEN_OBJECT, CLOSE_OBJECT]) MATTERS[byte] = 1;

const MAX_ELEMENT_BYTES = 16 * 2 ** 20;
const MAX_ENVELOPE_BYTES = 2 ** 20;
const MAX_DEPTH = 32;

export type JsonSplitter = {
  push(chunk: Uint8Array): void;
  /** The document with its list of elements empty. */
  end(): unknown;
};

/**
 * Cuts a JSON document into the members of its top-level `elements` list, parsed one by one or some at a time and
 * handed over, and the rest, its envelope. So neither a large document nor deep nesting can exhaust the memory or the
 * stack.
 * Refuses 'input-truncated', 'input-damaged', and 'input-unknown-format' for an envelope above 1 MiB.
 */
export function makeJsonSplitter(onElement: (element: unknown) => void): JsonSplitter {
  const scan = makeScanner();
  const envelope: number[] = [];
  let pieces: Uint8Array[] = [];
  let pieceBytes = 0;
  let count = 0;
  let afterElement = false;
  let afterComma = false;
  /** Up to here in the chunk in hand no run could be parsed: element by element it will be told which is broken. */
  let noRunBefore = 0;

  const start = (chunk: Uint8Array, at: number): number => {
    const byte = chunk[at] as number;
    if (byte === OPEN_OBJECT) {
      read = inEnvelope;
      return at;
    }
    if (!isSpace(byte) && !BYTE_ORDER_MARK.includes(byte)) throw new RefusalError('input-unknown-format');
    return at + 1;
  };
  const inEnvelope = (chunk: Uint8Array, at: number): number => {
    const byte = chunk[at] as number;
    if (byte === OPEN_LIST && scan.depth === 1 && !scan.inText && endsWith(envelope, '"elements":')) {
      afterElement = false;
      afterComma = false;
      read = inList;
    } else scan.step(byte);
    if (scan.inText || !isSpace(byte)) envelope.push(byte);
    if (envelope.length > MAX_ENVELOPE_BYTES) throw new RefusalError('input-unknown-format');
    if (scan.depth === 0) read = after;
    return at + 1;
  };
  const inList = (chunk: Uint8Array, at: number): number => {
    const byte = chunk[at] as number;
    if (byte === OPEN_OBJECT && !afterElement) {
      const end = at < noRunBefore ? undefined : readRun(chunk, at);
      if (end === undefined) read = inElement;
      return end ?? at;
    }
    if (byte === COMMA && afterElement) {
      afterElement = false;
      afterComma = true;
    } else if (byte === CLOSE_LIST && !afterComma) {
      envelope.push(byte);
      read = inEnvelope;
    } else if (!isSpace(byte)) throw damaged(`element ${count + 1}`);
    return at + 1;
  };
  const readRun = (chunk: Uint8Array, at: number): number | undefined => {
    const run = parseRun(chunk, at);
    if (run.elements === undefined) {
      noRunBefore = run.end;
      return undefined;
    }
    for (const element of run.elements) {
      count += 1;
      onElement(element);
    }
    afterElement = true;
    afterComma = false;
    return run.end;
  };
  const inElement = (chunk: Uint8Array, from: number): number => {
    const end = scan.findEnd(chunk, from, 1);
    pieces.push(chunk.subarray(from, end < 0 ? chunk.length : end));
    pieceBytes += (end < 0 ? chunk.length : end) - from;
    if (pieceBytes > MAX_ELEMENT_BYTES) throw damaged(`element ${count + 1}: more than 16 MiB`);
    if (end < 0) return chunk.length;
    count += 1;
    onElement(parse(pieces, `element ${count}`));
    pieces = [];
    pieceBytes = 0;
    afterElement = true;
    afterComma = false;
    read = inList;
    return end;
  };
  const after = (chunk: Uint8Array, at: number): number => {
    if (!isSpace(chunk[at] as number)) throw damaged('text after the end');
    return at + 1;
  };

  let read = start;
  return {
    push(chunk) {
      let at = 0;
      noRunBefore = 0;
      while (at < chunk.length) at = read(chunk, at);
    },
    end() {
      if (read !== after) throw new RefusalError('input-truncated', { where: `after ${count} elements` });
      return parse([Uint8Array.from(envelope)], 'its frame');
    },
  };
}

type Scanner = {
  /** Brackets that are open. */
  readonly depth: number;
  readonly inText: boolean;
  step(byte: number): void;
  /** The place after the byte that brings the depth back to `depth`, or -1 where the chunk ends before that. */
  findEnd(chunk: Uint8Array, from: number, depth: number): number;
};

/** Follows texts and brackets; whether brackets match is left to the parser. */
function makeScanner(): Scanner {
  let depth = 0;
  let inText = false;
  let escaped = false;
  const step = (byte: number) => {
    if (inText) {
      if (escaped) escaped = false;
      else if (byte === BACKSLASH) escaped = true;
      else if (byte === QUOTE) inText = false;
    } else if (byte === QUOTE) inText = true;
    else if (byte === OPEN_OBJECT || byte === OPEN_LIST) {
      depth += 1;
      if (depth > MAX_DEPTH) throw damaged('nested too deep');
    } else if (byte === CLOSE_OBJECT || byte === CLOSE_LIST) depth -= 1;
  };
  return {
    get depth() {
      return depth;
    },
    get inText() {
      return inText;
    },
    step,
    // The same as `step` for each byte, in local variables: most of a document is looked at here.
    findEnd(chunk, from, target) {
      let at = from;
      while (at < chunk.length) {
        if (inText && !escaped) at = skipText(chunk, at);
        if (at === chunk.length) break;
        const byte = chunk[at] as number;
        at += 1;
        if (inText || MATTERS[byte] === 1) {
          step(byte);
          if (depth === target) return at;
        }
      }
      return -1;
    },
  };
}

/** The place of the next quote or backslash. */
function skipText(chunk: Uint8Array, from: number): number {
  let at = from;
  while (at < chunk.length && chunk[at] !== QUOTE && chunk[at] !== BACKSLASH) at += 1;
  return at;
}

/** For what is decoded at once; a decoder that has failed is as good as new. */
const whole = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function parse(pieces: readonly Uint8Array[], where: string): unknown {
  try {
    if (pieces.length === 1) return JSON.parse(whole.decode(pieces[0]));
    const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
    const texts = pieces.map((piece) => decoder.decode(piece, { stream: true }));
    return JSON.parse(texts.join('') + decoder.decode());
  } catch {
    throw damaged(where);
  }
}

function endsWith(bytes: readonly number[], text: string): boolean {
  const from = bytes.length - text.length;
  for (let index = 0; index < text.length; index += 1) {
    if (bytes[from + index] !== text.charCodeAt(index)) return false;
  }
  return true;
}

function isSpace(byte: number): boolean {
  return byte === 0x20 || byte === 0x0a || byte === 0x0d || byte === 0x09;
}

function damaged(where: string): RefusalError {
  return new RefusalError('input-damaged', { where });
}
