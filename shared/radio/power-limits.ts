export type Region = 'europe' | 'united-states';

/** The radiated power that a region allows a beacon, dBm, and where that is written. */
export type PowerLimit = { readonly region: Region; readonly limitDbm: number; readonly source: string };

/**
 * One limit for each region. An LE 1M signal lies within about 1 MHz, so in Europe the limit of the density binds
 * before the one of the whole, 20 dBm. Aids to planning, not legal advice.
 */
export const POWER_LIMITS: readonly PowerLimit[] = [
  {
    region: 'europe',
    limitDbm: 10,
    source: 'EN 300 328: 10 dBm/MHz e.i.r.p. [P]; 20 dBm e.i.r.p. in all [M]',
  },
  { region: 'united-states', limitDbm: 36, source: 'FCC 15.247: 36 dBm e.i.r.p. [P, secondary]' },
];

/** Each region's limit and whether a beacon of this radiated power (EIRP, dBm) keeps it. */
export function checkPower(eirpDbm: number): readonly (PowerLimit & { readonly isKept: boolean })[] {
  return POWER_LIMITS.map((limit) => ({ ...limit, isKept: eirpDbm <= limit.limitDbm }));
}
