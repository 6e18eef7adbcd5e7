import { wavelengthM } from './free-space-loss.ts';

/** A bore as a rectangular waveguide with smooth walls. */
export type BoreSection = {
  readonly widthM: number;
  readonly heightM: number;
  /** Relative permittivity of the walls. */
  readonly permittivity: number;
  readonly polarisation: 'horizontal' | 'vertical';
};

/** Half waves across the width and up the height; the least lossy is 1, 1. */
export type GuidedMode = { readonly across: number; readonly up: number };

/** Concrete, ITU-R P.2040. */
export const CONCRETE_PERMITTIVITY = 5.24;

/** 10·log(e), from nepers of power to decibels. */
const DB_PER_NEPER = 4.343;

/**
 * Attenuation of one guided mode in dB/m (Emslie, Lagace and Strong, IEEE Trans. AP 23(2), 1975): far zone, straight
 * and empty bore, width and height well above the wavelength.
 */
export function waveguideLossDbPerM(
  { widthM, heightM, permittivity, polarisation }: BoreSection,
  frequencyMhz: number,
  { across, up }: GuidedMode = { across: 1, up: 1 },
): number {
  const root = Math.sqrt(permittivity - 1);
  const isHorizontal = polarisation === 'horizontal';
  // The walls that the field is perpendicular to are the ones that take more.
  const byWalls = (across ** 2 * (isHorizontal ? permittivity : 1)) / (widthM ** 3 * root);
  const byRoof = (up ** 2 * (isHorizontal ? 1 : permittivity)) / (heightM ** 3 * root);
  return DB_PER_NEPER * wavelengthM(frequencyMhz) ** 2 * (byWalls + byRoof);
}
