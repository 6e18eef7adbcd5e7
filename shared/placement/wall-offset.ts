import type { Link } from '../network/network.ts';
import type { Rules } from './rules.ts';

/**
 * How far the wall is from the centreline at a chainage, metres, positive to the right: half the carriageway
 * (the width in the data, else lanes × lane width) plus the shoulder, on the side that the rules name.
 */
export function wallOffsetM(link: Link, chainageM: number, rules: Rules): number {
  const offsetM = halfWidthM(link, chainageM, rules) + rules.shoulderM;
  return rules.side === 'right' ? offsetM : -offsetM;
}

/** Half the carriageway's width at a chainage, metres. */
export function halfWidthM(link: Link, chainageM: number, rules: Rules): number {
  const stretch = link.stretches.find((part) => chainageM <= part.toM) ?? link.stretches.at(-1);
  return (stretch?.widthM ?? (stretch?.lanes ?? link.lanes) * rules.laneWidthM) / 2;
}
