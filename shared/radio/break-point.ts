import { wavelengthM } from './free-space-loss.ts';

/** Where the first Fresnel zone meets the carriageway, 4·h1·h2/λ in metres, from the heights of both antennas. */
export function breakPointM(height1M: number, height2M: number, frequencyMhz: number): number {
  return (4 * height1M * height2M) / wavelengthM(frequencyMhz);
}
