import type { BudgetTermName } from '../shared/radio/link-budget.ts';
import type { Region } from '../shared/radio/power-limits.ts';
import type { BeaconProfileId, ReceiverProfileId } from '../shared/radio/profiles.ts';

/** What is said about the radio model. */
export const radioWords = {
  radio: {
    title: 'Radio',
    beacon: 'Beacon',
    receiver: 'Receiver',
    beacons: {
      frequent: 'Frequent',
      standard: 'Standard',
      sparing: 'Sparing, small cell',
      strong: 'Strong',
    } satisfies Record<BeaconProfileId, string>,
    receivers: {
      continuous: 'Continuous',
      balanced: 'Balanced',
      'low-power': 'Low power',
      sparse: 'Sparse',
    } satisfies Record<ReceiverProfileId, string>,
    beaconValues: (powerDbm: number, intervalMs: number) => `${powerDbm} dBm, every ${intervalMs} ms`,
    receiverValues: (windowMs: number, intervalMs: number) => `${windowMs} of ${intervalMs} ms`,
    budget: (distanceM: string) => `Link budget at ${distanceM} m along the bore`,
    term: 'Term',
    value: 'Value',
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
    power: (region: string, limitDbm: number, isKept: boolean) =>
      `${region}: ${isKept ? 'within' : 'above'} ${limitDbm} dBm`,
    powerTitle: 'Limit of radiated power',
    regions: { europe: 'Europe', 'united-states': 'United States' } satisfies Record<Region, string>,
    battery: (years: string) => `Battery about ${years} years, before its shelf life.`,
    refused: 'The model does not answer for these values:',
    caution:
      'A model, not a measurement. Profiles are project defaults, no device in particular; a straight and empty bore of 5 m height is taken. Measure on site. The choice is for this view and is not saved.',
  },
};
