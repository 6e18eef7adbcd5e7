/** Chainage as it is said on site: kilometres, plus, metres. `1240.4` is `1+240`; rounded to whole metres. */
export function formatChainage(chainageM: number): string {
  const metres = Math.round(chainageM);
  return `${Math.floor(metres / 1000)}+${String(metres % 1000).padStart(3, '0')}`;
}

/** Chainage to the decimetre, for what is shorter than a few metres: `1240.44` is `1+240.4`. */
export function formatFineChainage(chainageM: number): string {
  const decimetres = Math.round(chainageM * 10);
  return `${Math.floor(decimetres / 10_000)}+${((decimetres % 10_000) / 10).toFixed(1).padStart(5, '0')}`;
}

/**
 * Reads a chainage as a person types it, in metres: `340`, `340.5`, `340,5` or `0+340.5`.
 * Undefined where it is not a chainage.
 */
export function parseChainage(text: string): number | undefined {
  const match = /^\s*(?:(\d+)\s*\+\s*(\d{1,3}(?:[.,]\d+)?)|(\d+(?:[.,]\d+)?))\s*(?:m)?\s*$/.exec(text);
  if (match === null) return undefined;
  const [, km, rest, plain] = match;
  const metres = Number((rest ?? plain ?? '').replace(',', '.'));
  return km === undefined ? metres : Number(km) * 1000 + metres;
}

/** A number for people: grouped thousands, a fixed count of decimals. */
export function formatNumber(value: number, decimals: 0 | 1 | 2 = 0): string {
  return FORMATS[decimals].format(value);
}

/** Made once: thousands of rows use them. */
const FORMATS = ([0, 1, 2] as const).map(
  (digits) =>
    new Intl.NumberFormat('en-GB', { minimumFractionDigits: digits, maximumFractionDigits: digits }),
) as [Intl.NumberFormat, Intl.NumberFormat, Intl.NumberFormat];

/** A time as a date, `2026-01-31`; the day it has in UTC, as the map data say it. */
export function formatDate(iso: string): string {
  return iso.slice(0, 10);
}

const TIME = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** A moment in the reader's own time. */
export function formatTime(iso: string): string {
  return TIME.format(new Date(iso));
}

/** A large number for an axis or a sentence: `1.2m`, `340k`; three digits at most. */
export function formatShort(value: number): string {
  return SHORT.format(value);
}

/** A large number in a sentence, without more digits than can be meant: `76.8 million`. */
export function formatRough(value: number): string {
  return ROUGH.format(value);
}

const ROUGH = new Intl.NumberFormat('en-GB', {
  notation: 'compact',
  compactDisplay: 'long',
  maximumSignificantDigits: 3,
});
const SHORT = new Intl.NumberFormat('en-GB', { notation: 'compact', maximumSignificantDigits: 3 });

/** Drivers of a day: with a decimal where they are few. */
export function formatPerDay(value: number): string {
  return formatNumber(value, value !== 0 && Math.abs(value) < 10 ? 1 : 0);
}
