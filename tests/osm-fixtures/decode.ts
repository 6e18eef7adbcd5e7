import type { Decoder } from '../../shared/osm/decoder.ts';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';

/** Feeds a decoder in pieces of `size` bytes; only refusals are caught, so that a bug fails the test. */
export function decode(decoder: Decoder, input: string | Uint8Array, size = 65_536): Result<OsmExtract> {
  const bytes = typeof input === 'string' ? new TextEncoder().encode(input) : input;
  try {
    for (let at = 0; at < bytes.length; at += size) decoder.push(bytes.subarray(at, at + size));
    return done(decoder.end());
  } catch (error) {
    if (error instanceof RefusalError) return refused(error.refusal);
    throw error;
  }
}

/** The code and place of a refusal, or "ok". */
export function outcome(result: Result<OsmExtract>): string {
  if (result.ok) return 'ok';
  const { code, context } = result.refusal;
  return context.where === undefined ? code : `${code}: ${context.where}`;
}
