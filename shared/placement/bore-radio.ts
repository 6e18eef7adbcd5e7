import { CHANNELS_MHZ } from '../radio/free-space-loss.ts';
import { BORE_FIELDS, type LinkInput } from '../radio/link-budget.ts';
import { BEACON_PROFILES, RECEIVER_PROFILES } from '../radio/profiles.ts';
import { CONCRETE_PERMITTIVITY } from '../radio/waveguide-loss.ts';
import type { Rules } from './rules.ts';

/** A beacon on the wall and a receiver in the lane that is farthest from it. */
export type BoreRadio = {
  readonly input: LinkInput;
  /** From the beacon to the line that the receiver is driven along, across the bore and down, metres. */
  readonly asideM: number;
};

/**
 * What the radio model is asked about a bore whose carriageway is `halfM` metres wide from its middle to its edge:
 * the profiles, heights and shoulder of the rules, the most lossy of the three channels. The model knows bores of 2 to
 * 60 m; narrower and wider ones count as these, which only the small guided term sees.
 */
export function describeBoreRadio(halfM: number, rules: Rules): BoreRadio {
  const { shoulderM, mountingHeightM, laneWidthM } = rules;
  const receiver = RECEIVER_PROFILES[rules.receiverProfile];
  const { min, max } = BORE_FIELDS.widthM;
  const wallM = halfM + shoulderM;
  // To the middle of the lane on the other side; of a narrow bore to the middle of the carriageway.
  const acrossM = wallM + Math.max(0, halfM - laneWidthM / 2);
  return {
    input: {
      beacon: BEACON_PROFILES[rules.beaconProfile],
      receiver,
      frequencyMhz: CHANNELS_MHZ[2],
      mountingHeightM,
      bore: {
        widthM: Math.min(max, Math.max(min, 2 * wallM)),
        heightM: rules.boreHeightM,
        permittivity: CONCRETE_PERMITTIVITY,
        polarisation: 'vertical',
      },
    },
    asideM: Math.hypot(acrossM, mountingHeightM - receiver.heightM),
  };
}
