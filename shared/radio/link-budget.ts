import { done, type Result, refused } from '../outcome/result.ts';
import { breakPointM } from './break-point.ts';
import { checkValues } from './check-values.ts';
import { freeSpaceLossDb } from './free-space-loss.ts';
import { BEACON_FIELDS, type BeaconProfile, RECEIVER_FIELDS, type ReceiverProfile } from './profiles.ts';
import { type BoreSection, waveguideLossDbPerM } from './waveguide-loss.ts';

/** Everything between a beacon and the receiver in a car but the distance. */
export type LinkInput = {
  readonly beacon: Pick<BeaconProfile, 'txPowerDbm' | 'antennaDbi'>;
  readonly receiver: Omit<ReceiverProfile, 'scanWindowMs' | 'scanIntervalMs' | 'vehicleSpreadDb'>;
  readonly frequencyMhz: number;
  /** Height of the beacon above the carriageway. */
  readonly mountingHeightM: number;
  readonly bore: BoreSection;
};

export type BudgetTermName = 'transmit' | 'antenna' | 'freeSpace' | 'guided' | 'vehicle' | 'gain' | 'fading';
/** One summand of the level: losses are negative. */
export type BudgetTerm = {
  readonly name: BudgetTermName;
  readonly value: number;
  readonly unit: 'dBm' | 'dB' | 'dBi';
};

export type LinkBudget = {
  readonly terms: readonly BudgetTerm[];
  /** The sum of the terms. */
  readonly levelDbm: number;
  /** What the level is above the sensitivity, beyond the fading margin; negative where it is not heard. */
  readonly leftDb: number;
  readonly breakPointM: number;
};

export const SHORTEST_M = 0.5;
export const LONGEST_M = 2000;

/**
 * Level that a receiver gets at a distance in metres (0.5 to 2000): transmit power + antenna gain −
 * path loss − vehicle loss + receiver gain − fading margin, every term named. Path loss is free space up to the break point, from there on free space or the
 * loss there with the guided attenuation, whichever is larger. Refuses values out of range (`rule-invalid`).
 */
export function buildLinkBudget(input: LinkInput, distanceM: number): Result<LinkBudget> {
  const bad = findBad(input, distanceM);
  if (bad !== undefined) return refused(bad);
  const { beacon, receiver, frequencyMhz, mountingHeightM, bore } = input;
  const breakM = breakPointM(mountingHeightM, receiver.heightM, frequencyMhz);
  const freeDb = freeSpaceLossDb(distanceM, frequencyMhz);
  const beyondM = Math.max(0, distanceM - breakM);
  const guidedDb =
    freeSpaceLossDb(Math.min(distanceM, breakM), frequencyMhz) +
    beyondM * waveguideLossDbPerM(bore, frequencyMhz);
  const terms: readonly BudgetTerm[] = [
    { name: 'transmit', value: beacon.txPowerDbm, unit: 'dBm' },
    { name: 'antenna', value: beacon.antennaDbi, unit: 'dBi' },
    { name: 'freeSpace', value: -freeDb, unit: 'dB' },
    { name: 'guided', value: -Math.max(0, guidedDb - freeDb), unit: 'dB' },
    { name: 'vehicle', value: -receiver.vehicleLossDb, unit: 'dB' },
    { name: 'gain', value: receiver.gainDbi, unit: 'dBi' },
    { name: 'fading', value: -receiver.fadingMarginDb, unit: 'dB' },
  ];
  const levelDbm = terms.reduce((sum, term) => sum + term.value, 0);
  return done({ terms, levelDbm, leftDb: levelDbm - receiver.sensitivityDbm, breakPointM: breakM });
}

const PLACE_FIELDS = {
  distanceM: { unit: 'm', min: SHORTEST_M, max: LONGEST_M },
  frequencyMhz: { unit: 'MHz', min: 2400, max: 2483.5 },
  mountingHeightM: { unit: 'm', min: 0.5, max: 8 },
};
/** What the model takes of a bore. */
export const BORE_FIELDS = {
  widthM: { unit: 'm', min: 2, max: 60 },
  heightM: { unit: 'm', min: 2, max: 30 },
  permittivity: { unit: '', min: 1.5, max: 80 },
};

function findBad({ beacon, receiver, frequencyMhz, mountingHeightM, bore }: LinkInput, distanceM: number) {
  const { txPowerDbm, antennaDbi } = BEACON_FIELDS;
  const { sensitivityDbm, gainDbi, vehicleLossDb, fadingMarginDb, heightM } = RECEIVER_FIELDS;
  const receiverFields = { sensitivityDbm, gainDbi, vehicleLossDb, fadingMarginDb, heightM };
  return (
    checkValues(PLACE_FIELDS, { distanceM, frequencyMhz, mountingHeightM }) ??
    checkValues(BORE_FIELDS, bore) ??
    checkValues({ txPowerDbm, antennaDbi }, beacon) ??
    checkValues(receiverFields, receiver)
  );
}
