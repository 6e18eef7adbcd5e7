import type { Tags } from './extract.ts';
import type { RoadClass } from './read-highway.ts';

export type Lanes = { readonly lanes: number; readonly assumed: boolean; readonly unreadable?: string };

/**
 * Reads how many lanes the carriageway has. `lanes`, else the sum of `lanes:forward` and `lanes:backward`, else
 * the default by road class, marked as assumed. Of several values (`2;3`) the highest counts: the wall is outside
 * of all lanes.
 */
export function readLanes(tags: Tags, roadClass: RoadClass, oneway: boolean): Lanes {
  const text = tags.lanes;
  const values = (text ?? '').split(';').map((part) => count(part.trim()));
  const known = values.filter((value) => value !== undefined);
  if (known.length > 0 && known.length === values.length)
    return { lanes: Math.max(...known), assumed: false };
  const byDirection =
    (count(tags['lanes:forward'] ?? '') ?? 0) +
    (count(tags['lanes:backward'] ?? '') ?? 0) +
    (count(tags['lanes:both_ways'] ?? '') ?? 0);
  const lanes = byDirection > 0 ? byDirection : defaultLanes(roadClass, oneway);
  const assumed = byDirection === 0;
  return text === undefined ? { lanes, assumed } : { lanes, assumed, unreadable: text };
}

function count(text: string): number | undefined {
  const value = /^\d{1,2}(?:\.\d+)?$/.test(text) ? Math.ceil(Number(text)) : 0;
  return value > 0 && value <= 20 ? value : undefined;
}

/** Project defaults: two lanes on a carriageway, one on a one-way ramp or a small street. */
function defaultLanes(roadClass: RoadClass, oneway: boolean): number {
  if (!oneway) return roadClass === 'service' || roadClass === 'living_street' ? 1 : 2;
  return roadClass === 'motorway' || roadClass === 'trunk' ? 2 : 1;
}
