import type { OsmExtract } from './extract.ts';

/**
 * Reads one file that arrives in pieces of any size, which must not change afterwards. Both methods throw a RefusalError for what cannot be read;
 * after that, or after `end()`, the decoder must not be used again.
 */
export type Decoder = {
  push(chunk: Uint8Array): void;
  end(): OsmExtract;
};
