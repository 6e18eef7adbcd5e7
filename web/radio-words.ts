import type { BudgetTermName } from '../shared/radio/link-budget.ts';
import { adviserWords } from './adviser-words.ts';

/** What is said about the radio model. */
export const radioWords = {
  ...adviserWords,
  radio: {
    title: 'Radio',
    versions: (beacons: number, receivers: number) =>
      `Profiles of beacons version ${beacons}, of receivers version ${receivers}.`,
    budget: (distanceM: string) => `Link budget at ${distanceM} m along the bore`,
    terms: {
      transmit: 'Transmit power',
      antenna: 'Antenna gain',
      freeSpace: 'Free-space loss',
      guided: 'Loss of the bore beyond it',
      vehicle: 'Loss into the car',
      gain: 'Receiver’s antenna',
      fading: 'Fading margin',
    } satisfies Record<BudgetTermName, string>,
    termNotes: {
      transmit: 'Beacon profile, project default.',
      antenna: 'Beacon profile, project default: towards the road.',
      freeSpace: 'ITU-R P.525 at 2480 MHz, the most lossy of the three channels.',
      guided: 'Emslie, Lagace and Strong 1975, from the break point on, where it is the larger one.',
      vehicle: '3GPP TR 38.901: mean 9 dB, from car to car ± 5 dB; metallised windows 20 dB.',
      gain: 'Receiver profile, project default.',
      fading: 'Receiver profile, project default: twice the spread from car to car.',
    } satisfies Record<BudgetTermName, string>,
    level: 'Level received',
    sensitivity: 'Sensitivity',
    left: 'Left over',
    supported: (rangeM: string, radiusM: string) => `Model range ${rangeM} m ≥ ${radiusM} m in use.`,
    unsupported: (rangeM: string, radiusM: string) =>
      `Model range ${rangeM} m < ${radiusM} m in use: reduce the coverage radius to ${rangeM} m, or choose a stronger beacon.`,
    measured: (radiusM: string, rangeM: string) =>
      `Measured radius ${radiusM} m in use; model range ${rangeM} m.`,
    modelled: (radiusM: string) => `Radius from the model in use: ${radiusM} m, by the width of the bore.`,
    neverHeard: (radiusM: string) =>
      `The model does not hear this beacon at all, but ${radiusM} m are in use: choose a stronger beacon.`,
    detection: 'Chance to detect while driving past',
    speed: 'Speed',
    one: 'One beacon',
    row: (count: number) => `One of ${count} in a row`,
    speedKmh: (text: string) => `${text} km/h`,
    percent: (text: string) => `${text} %`,
    detectionNote: (others: number, radiusM: string) =>
      `In range for ${radiusM} m to each side, ${others} other ${others === 1 ? 'beacon' : 'beacons'} heard at the same time; integral over the phases of scan and advertising.`,
    power: (region: string, powerDbm: number, limitDbm: number, isKept: boolean) =>
      `Radiated power (EIRP) ${powerDbm} dBm: ${isKept ? 'within' : 'above'} the ${limitDbm} dBm of ${region}.`,
    refused: 'The model does not answer for these values:',
    caution:
      'A model, not a measurement. Profiles are project defaults, no device in particular; the widest bore is taken, straight and empty. Measure on site.',
    life: 'Battery life',
    lifeYears: (years: string) => `${years} years`,
    lifeFrom: (profile: string, capacityMah: number, usable: string, meanUa: string) =>
      `Expected, project’s model: beacons “${profile}”, ${capacityMah} mAh of which ${usable} are used, ${meanUa} µA on average, linear self-discharge.`,
    lifeByShelf: 'The shelf life of the cell ends it.',
    lifeByCharge: 'Its charge ends it, before the shelf life of the cell.',
  },
};
