import { takeTurns } from '../take-turns.ts';

const CHUNK_CHARACTERS = 65_536;

/** Text in chunks of bytes, made as they are read; others have their turns meanwhile. Throws when `signal` fires. */
export async function* writeText(pieces: Iterable<string>, signal: AbortSignal): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder();
  const turn = takeTurns();
  let text = '';
  for (const piece of pieces) {
    text += piece;
    if (text.length >= CHUNK_CHARACTERS) {
      yield encoder.encode(text);
      text = '';
    }
    await turn();
    signal.throwIfAborted();
  }
  if (text !== '') yield encoder.encode(text);
}
