import type { Link } from '../network/network.ts';
import { findRange } from '../radio/find-range.ts';
import { alongBoreM } from '../radio/time-in-range.ts';
import { describeBoreRadio } from './bore-radio.ts';
import type { Rules } from './rules.ts';
import { halfWidthM } from './wall-offset.ts';

const SHORTEST_M = 1;
const LONGEST_M = 500;

/**
 * Makes the function that tells how far along the bores a beacon at a chainage of a link is heard, metres: by hand, as
 * measured, or by the radio model for the width of the bore there, as `coverageSource` says. The model's answer is
 * rounded down to 0.1 m and kept within 1 to 500 m. Each width is asked about once.
 */
export function makeRadius(rules: Rules): (link: Link, chainageM: number) => number {
  switch (rules.coverageSource) {
    case 'hand':
      return () => rules.coverageRadiusM;
    case 'measured':
      return () => rules.measuredRadiusM;
    case 'model': {
      const known = new Map<number, number>();
      return (link, chainageM) => {
        const halfM = halfWidthM(link, chainageM, rules);
        const radiusM = known.get(halfM) ?? toRadiusM(findModelRangeM(halfM, rules));
        known.set(halfM, radiusM);
        return radiusM;
      };
    }
  }
}

/**
 * How far along a bore of this half width the radio model hears the beacons of the rules, metres, whatever
 * `coverageSource` says; 0 where they are not heard in the lane that is farthest from them.
 */
export function findModelRangeM(halfM: number, rules: Rules): number {
  const { input, asideM } = describeBoreRadio(halfM, rules);
  const range = findRange(input);
  // Profiles and the ranges of the rules lie within what the model takes.
  if (!range.ok) throw new Error(`the radio model refuses rules that are in range: ${range.refusal.code}`);
  return alongBoreM(range.value, asideM);
}

function toRadiusM(rangeM: number): number {
  return Math.min(LONGEST_M, Math.max(SHORTEST_M, Math.floor(rangeM * 10) / 10));
}
