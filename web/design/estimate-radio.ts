import type { Link } from '../../shared/network/network.ts';
import { done, type Result } from '../../shared/outcome/result.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { halfWidthM } from '../../shared/placement/wall-offset.ts';
import { detectPass } from '../../shared/radio/detect-pass.ts';
import { findRange } from '../../shared/radio/find-range.ts';
import { CHANNELS_MHZ } from '../../shared/radio/free-space-loss.ts';
import { buildLinkBudget, type LinkBudget, type LinkInput } from '../../shared/radio/link-budget.ts';
import type { BeaconProfile, ReceiverProfile } from '../../shared/radio/profiles.ts';
import { alongBoreM, timeInRangeS } from '../../shared/radio/time-in-range.ts';
import { CONCRETE_PERMITTIVITY } from '../../shared/radio/waveguide-loss.ts';

export type RadioInput = {
  readonly links: readonly Link[];
  readonly rules: Rules;
  readonly beacon: BeaconProfile;
  readonly receiver: ReceiverProfile;
};

export type RadioEstimate = {
  /** At the coverage radius in use. */
  readonly budget: LinkBudget;
  /** How far along the bore the model hears a beacon; 0 where it does not. */
  readonly rangeM: number;
  /** The coverage radius in use, or the model's range where that is less. */
  readonly heardM: number;
  readonly otherBeacons: number;
  readonly inRow: number;
  /** At the highest limit of the tunnel and at half of it. */
  readonly passes: readonly { readonly speedMps: number; readonly one: number; readonly row: number }[];
};

/** The data have no height of the bore. */
const BORE_HEIGHT_M = 5;

/** What the radio model says of a tunnel, for its widest bore and its highest limit. Refuses as the model does. */
export function estimateRadio({ links, rules, beacon, receiver }: RadioInput): Result<RadioEstimate> {
  const halfM = Math.max(
    ...links.flatMap((link) => link.stretches.map((part) => halfWidthM(link, part.toM, rules))),
  );
  const input: LinkInput = {
    beacon,
    receiver,
    frequencyMhz: CHANNELS_MHZ[2],
    mountingHeightM: rules.mountingHeightM,
    bore: {
      widthM: 2 * (halfM + rules.shoulderM),
      heightM: BORE_HEIGHT_M,
      permittivity: CONCRETE_PERMITTIVITY,
      polarisation: 'vertical',
    },
  };
  // From the wall to the middle of the lane on the other side, and down to the receiver.
  const acrossM = 2 * halfM + rules.shoulderM - rules.laneWidthM / 2;
  const asideM = Math.hypot(acrossM, rules.mountingHeightM - receiver.heightM);
  const budget = buildLinkBudget(input, Math.hypot(rules.coverageRadiusM, asideM));
  if (!budget.ok) return budget;
  const range = findRange(input);
  if (!range.ok) return range;
  const rangeM = alongBoreM(range.value, asideM);
  const heardM = Math.min(rangeM, rules.coverageRadiusM);
  const shared = {
    heardM,
    otherBeacons: Math.floor((2 * heardM) / rules.spacingM),
    inRow: Math.max(2, rules.redundancy),
  };
  const passes = [1, 0.5].map((share) => {
    const speedMps = share * Math.max(...links.map((link) => link.speedMps));
    return passAt(speedMps, { beacon, receiver, spacingM: rules.spacingM, ...shared });
  });
  const refusedPass = passes.find((pass) => !pass.ok);
  if (refusedPass !== undefined && !refusedPass.ok) return refusedPass;
  const good = passes.flatMap((pass) => (pass.ok ? [pass.value] : []));
  return done({ budget: budget.value, rangeM, ...shared, passes: good });
}

type PassAt = Pick<RadioInput, 'beacon' | 'receiver'> &
  Pick<RadioEstimate, 'heardM' | 'otherBeacons' | 'inRow'> & { readonly spacingM: number };

function passAt(speedMps: number, { heardM, inRow, spacingM, beacon, receiver, otherBeacons }: PassAt) {
  const pass = { beacon, receiver, otherBeacons, timeInRangeS: timeInRangeS(heardM, 0, speedMps) };
  const one = detectPass(pass);
  if (!one.ok) return one;
  const row = detectPass({ ...pass, beacons: inRow, apartS: spacingM / speedMps });
  return row.ok ? done({ speedMps, one: one.value, row: row.value }) : row;
}
