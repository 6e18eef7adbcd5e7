import type { BBox } from '../../shared/geodesy/lon-lat.ts';

/** The four limits as they are typed. */
export type AreaTexts = {
  readonly west: string;
  readonly south: string;
  readonly east: string;
  readonly north: string;
};

export const NO_AREA: AreaTexts = { west: '', south: '', east: '', north: '' };

/** Reads four typed limits, degrees, with point or comma; undefined where one is missing or no number. */
export function fromTexts(texts: AreaTexts): BBox | undefined {
  const [west, south, east, north] = [texts.west, texts.south, texts.east, texts.north].map(readDegrees);
  if (west === undefined || south === undefined || east === undefined || north === undefined)
    return undefined;
  return [west, south, east, north];
}

/** Writes the limits of a drawn area into the fields. */
export function toTexts(area: BBox | undefined): AreaTexts {
  if (area === undefined) return NO_AREA;
  // Five decimals are about a metre.
  const texts = area.map((degrees) => String(Math.round(degrees * 1e5) / 1e5));
  const [west, south, east, north] = texts as [string, string, string, string];
  return { west, south, east, north };
}

function readDegrees(text: string): number | undefined {
  const match = /^\s*[-−]?\d+(?:[.,]\d+)?\s*°?\s*$/.exec(text);
  if (match === null) return undefined;
  return Number(text.replace('−', '-').replace(',', '.').replace('°', '').trim());
}
