import { RefusalError } from '../outcome/refusal.ts';
import type { Decoder } from './decoder.ts';
import { makeJsonElements } from './json-elements.ts';
import { makeJsonSplitter } from './json-splitter.ts';
import { makeCollector } from './make-collector.ts';

/**
 * A streaming decoder for Overpass JSON: an object with a list of `elements`, as `out`, `out geom` or `out center`
 * write it. Elements are parsed one by one, so that memory does not grow with the file. Refuses 'overpass-remark'
 * (the server stopped early), 'input-truncated', 'input-damaged', 'input-unknown-format' for other JSON, and what
 * the collector refuses.
 */
export function fromOverpassJson(collector = makeCollector()): Decoder {
  const elements = makeJsonElements(collector);
  const splitter = makeJsonSplitter(elements.add);
  return {
    push: (chunk) => splitter.push(chunk),
    end() {
      const envelope = splitter.end();
      const remark = isRecord(envelope) ? envelope.remark : undefined;
      if (remark !== undefined && remark !== '')
        throw new RefusalError('overpass-remark', { remark: String(remark) });
      if (!isRecord(envelope) || !isEmptyList(envelope.elements))
        throw new RefusalError('input-unknown-format');
      return collector.finish({ format: 'overpass-json', ...toSource(envelope) });
    },
  };
}

function toSource(envelope: Record<string, unknown>): { generator?: string; timestamp?: string } {
  const { generator, osm3s } = envelope;
  const timestamp = isRecord(osm3s) ? osm3s.timestamp_osm_base : undefined;
  return {
    ...(typeof generator === 'string' ? { generator } : {}),
    ...(typeof timestamp === 'string' ? { timestamp } : {}),
  };
}

/** The list was there and the splitter has taken everything out of it. */
function isEmptyList(value: unknown): boolean {
  return Array.isArray(value) && value.length === 0;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
