import type { Decoder } from './decoder.ts';
import { makeCollector } from './make-collector.ts';
import { makeXmlElements } from './xml-elements.ts';
import { makeXmlParser } from './xml-parser.ts';

/**
 * A streaming decoder for OSM XML: an `<osm>` document in UTF-8. Refuses 'input-entities' for a document type
 * declaration, 'input-truncated' where the document is not closed, 'input-damaged' with line and column,
 * 'input-html' and 'input-unknown-format' by the root element, 'overpass-remark', and what the collector refuses.
 */
export function fromOsmXml(collector = makeCollector()): Decoder {
  const elements = makeXmlElements(collector);
  const parser = makeXmlParser(elements);
  return {
    push: (chunk) => parser.push(chunk),
    end() {
      parser.end();
      return elements.finish();
    },
  };
}
