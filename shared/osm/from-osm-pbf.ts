import { RefusalError } from '../outcome/refusal.ts';
import type { Decoder } from './decoder.ts';
import { makeCollector } from './make-collector.ts';
import { type Inflate, makeBlobReader } from './pbf-blobs.ts';
import { fromPbfBlock } from './pbf-block.ts';
import { fromPbfHeader, type PbfHeader } from './pbf-header.ts';

/**
 * A decoder for OSM PBF. Blobs are unpacked and read one by one, so that memory does not grow with the file.
 * Refuses 'input-truncated', 'input-damaged' (naming blob and reason), and what the collector refuses.
 */
export function fromOsmPbf(inflate: Inflate, collector = makeCollector()): Decoder {
  let header: PbfHeader | undefined;
  const blobs = makeBlobReader(inflate, (type, bytes) => {
    if (type === 'OSMHeader') {
      header = fromPbfHeader(bytes);
      return;
    }
    if (header === undefined) throw new RefusalError('input-damaged', { where: 'data before the header' });
    fromPbfBlock(bytes, collector);
  });
  return {
    push: (chunk) => blobs.push(chunk),
    end() {
      blobs.end();
      if (header === undefined) throw new RefusalError('input-damaged', { where: 'no header' });
      const { bbox, ...rest } = header;
      return collector.finish({ format: 'osm-pbf', ...rest }, bbox);
    },
  };
}
