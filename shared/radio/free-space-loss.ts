export const LIGHT_MPS = 299_792_458;

/** The advertising channels 37, 38 and 39, MHz. */
export const CHANNELS_MHZ = [2402, 2426, 2480] as const;

/** Free-space loss between isotropic antennas in dB, 20·log(4πdf/c) (ITU-R P.525), from 1 wavelength on. */
export function freeSpaceLossDb(distanceM: number, frequencyMhz: number): number {
  return 20 * Math.log10((4 * Math.PI * distanceM) / wavelengthM(frequencyMhz));
}

/** Wavelength in metres. */
export function wavelengthM(frequencyMhz: number): number {
  return LIGHT_MPS / (frequencyMhz * 1e6);
}
