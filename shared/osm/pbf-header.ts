import type { BBox } from '../geodesy/lon-lat.ts';
import { RefusalError } from '../outcome/refusal.ts';
import { toBBox } from './to-bbox.ts';
import { WireCursor } from './wire-cursor.ts';

const UNDERSTOOD: ReadonlySet<string> = new Set(['OsmSchema-V0.6', 'DenseNodes']);

const text = new TextDecoder();

export type PbfHeader = { readonly bbox?: BBox; readonly timestamp?: string; readonly generator?: string };

/** Reads an OSM PBF file's header block; refuses 'input-damaged' for a required feature that is not understood. */
export function fromPbfHeader(bytes: Uint8Array): PbfHeader {
  const cursor = new WireCursor(bytes);
  let bbox: BBox | undefined;
  let timestamp: string | undefined;
  let generator: string | undefined;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if (tag === 10) bbox = toBox(cursor.readMessage());
    else if (tag === 34) checkFeature(text.decode(cursor.readBytes()));
    else if (tag === 130) generator = text.decode(cursor.readBytes());
    else if (tag === 256) timestamp = toTime(cursor.readSigned());
    else cursor.skip(tag);
  }
  return {
    ...(bbox === undefined ? {} : { bbox }),
    ...(timestamp === undefined ? {} : { timestamp }),
    ...(generator === undefined ? {} : { generator }),
  };
}

function checkFeature(feature: string): void {
  if (UNDERSTOOD.has(feature)) return;
  throw new RefusalError('input-damaged', {
    where: `the file needs the feature ${feature.slice(0, 80)}, which is not read`,
  });
}

function toBox(cursor: WireCursor): BBox | undefined {
  const sides = new Map<number, number>();
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if ((tag & 7) === 0) sides.set(tag >>> 3, cursor.readZigzag() / 1e9);
    else cursor.skip(tag);
  }
  const [left, right, top, bottom] = [1, 2, 3, 4].map((field) => sides.get(field) ?? Number.NaN) as [
    number,
    number,
    number,
    number,
  ];
  return toBBox(left, bottom, right, top);
}

/** Seconds since 1970; 0 means that the writer did not know. */
function toTime(seconds: number): string | undefined {
  if (seconds <= 0 || seconds > 253_402_300_799) return undefined;
  return new Date(seconds * 1000).toISOString().replace('.000Z', 'Z');
}
