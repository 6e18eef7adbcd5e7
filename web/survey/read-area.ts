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
export function toTexts(area: Readonly<BBox> | undefined): AreaTexts {
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

/**
 * Reads an outline, a corner a line, longitude before latitude, degrees with a point, apart by a comma, semicolon or
 * space; closes it. Undefined for fewer than three corners or where a line is no corner.
 */
export function fromLines(text: string): [number, number][] | undefined {
  const lines = text.split('\n').filter((line) => line.trim() !== '');
  const corners = lines.map((line) =>
    /^\s*([-−]?\d+(?:\.\d+)?)\s*[,;\s]\s*([-−]?\d+(?:\.\d+)?)\s*$/.exec(line),
  );
  if (corners.length < 3 || corners.includes(null)) return undefined;
  const ring = corners.map((corner): [number, number] => [toNumber(corner?.[1]), toNumber(corner?.[2])]);
  const [first, last] = [ring[0] as [number, number], ring.at(-1)];
  const isClosed = first[0] === last?.[0] && first[1] === last[1];
  return isClosed ? (ring.length < 4 ? undefined : ring) : [...ring, first];
}

/** Writes an outline as lines, its first corner once. */
export function toLines(ring: readonly (readonly [number, number])[]): string {
  const round = (degrees: number) => String(Math.round(degrees * 1e5) / 1e5);
  return ring
    .slice(0, -1)
    .map(([lon, lat]) => `${round(lon)}, ${round(lat)}`)
    .join('\n');
}

function toNumber(text = ''): number {
  return Number(text.replace('−', '-'));
}
