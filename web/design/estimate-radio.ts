import type { Link } from '../../shared/network/network.ts';
import { done, type Result } from '../../shared/outcome/result.ts';
import { describeBoreRadio } from '../../shared/placement/bore-radio.ts';
import { findModelRangeM, makeRadius } from '../../shared/placement/make-radius.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { halfWidthM } from '../../shared/placement/wall-offset.ts';
import { detectPass } from '../../shared/radio/detect-pass.ts';
import { buildLinkBudget, type LinkBudget } from '../../shared/radio/link-budget.ts';
import { BEACON_PROFILES, RECEIVER_PROFILES } from '../../shared/radio/profiles.ts';
import { timeInRangeS } from '../../shared/radio/time-in-range.ts';

export type RadioInput = { readonly links: readonly Link[]; readonly rules: Rules };

export type RadioEstimate = {
  /** At the radius in use. */
  readonly budget: LinkBudget;
  /** How far along the widest bore the model hears a beacon; 0 where it does not. */
  readonly rangeM: number;
  /** The radius in use: the least and the greatest over the widths of the bores. */
  readonly radiusM: number;
  readonly greatestRadiusM: number;
  /** What is reckoned with: the radius in use, or the model's range where that is less and nothing was measured. */
  readonly heardM: number;
  readonly otherBeacons: number;
  readonly inRow: number;
  /** At the highest limit of the tunnel and at half of it. */
  readonly passes: readonly { readonly speedMps: number; readonly one: number; readonly row: number }[];
};

/** What the radio model says of a tunnel, for its widest bore and its highest limit. Refuses as the model does. */
export function estimateRadio({ links, rules }: RadioInput): Result<RadioEstimate> {
  const parts = links.flatMap((link) => link.stretches.map(({ toM }) => ({ link, toM })));
  const halfM = Math.max(...parts.map(({ link, toM }) => halfWidthM(link, toM, rules)));
  const radiusAt = makeRadius(rules);
  const radiiM = parts.map(({ link, toM }) => radiusAt(link, toM));
  const [radiusM, greatestRadiusM] = [Math.min(...radiiM), Math.max(...radiiM)];
  const { input, asideM } = describeBoreRadio(halfM, rules);
  const budget = buildLinkBudget(input, Math.hypot(radiusM, asideM));
  if (!budget.ok) return budget;
  const rangeM = findModelRangeM(halfM, rules);
  const heardM = rules.coverageSource === 'measured' ? radiusM : Math.min(rangeM, radiusM);
  const shared = {
    heardM,
    otherBeacons: Math.floor((2 * heardM) / rules.spacingM),
    inRow: Math.max(2, rules.redundancy),
  };
  const passes = [1, 0.5].map((share) => passAt(share * findSpeedMps(links), rules, shared));
  const refusedPass = passes.find((pass) => !pass.ok);
  if (refusedPass !== undefined && !refusedPass.ok) return refusedPass;
  const good = passes.flatMap((pass) => (pass.ok ? [pass.value] : []));
  return done({ budget: budget.value, rangeM, radiusM, greatestRadiusM, ...shared, passes: good });
}

/** The highest limit of a tunnel, metres a second. */
export function findSpeedMps(links: readonly Link[]): number {
  return Math.max(...links.map((link) => link.speedMps));
}

function passAt(
  speedMps: number,
  rules: Rules,
  { heardM, inRow, otherBeacons }: Pick<RadioEstimate, 'heardM' | 'otherBeacons' | 'inRow'>,
) {
  const beacon = BEACON_PROFILES[rules.beaconProfile];
  const receiver = RECEIVER_PROFILES[rules.receiverProfile];
  const pass = { beacon, receiver, otherBeacons, timeInRangeS: timeInRangeS(heardM, 0, speedMps) };
  const one = detectPass(pass);
  if (!one.ok) return one;
  const row = detectPass({ ...pass, beacons: inRow, apartS: rules.spacingM / speedMps });
  return row.ok ? done({ speedMps, one: one.value, row: row.value }) : row;
}
