import type { Tags } from './extract.ts';

const FOOT_M = 0.3048;
const INCH_M = 0.0254;

/** Reads the carriageway's width in metres (`7`, `7.5 m`, `24'6"`, `24 ft`); `unreadable` is a value not understood. */
export function readWidth(tags: Tags): { readonly widthM?: number; readonly unreadable?: string } {
  const text = tags['width:carriageway'] ?? tags.width;
  if (text === undefined) return {};
  const widthM = parseLength(text.trim());
  return widthM !== undefined && widthM >= 1.5 && widthM <= 60 ? { widthM } : { unreadable: text };
}

function parseLength(text: string): number | undefined {
  const metres = /^(\d+(?:\.\d+)?)\s*(m|ft)?$/.exec(text);
  if (metres !== null) return Number(metres[1]) * (metres[2] === 'ft' ? FOOT_M : 1);
  const feet = /^(\d+)'(?:\s*(\d+(?:\.\d+)?)")?$/.exec(text);
  return feet === null ? undefined : Number(feet[1]) * FOOT_M + Number(feet[2] ?? 0) * INCH_M;
}
