import type { Link, Stretch } from '../network/network.ts';
import type { Wall } from './beacon.ts';
import type { Rules } from './rules.ts';

/**
 * How far a wall is from the drawn line at a chainage, metres, positive to the right: from the middle of the
 * carriageway (the line itself, unless the data say otherwise) half the carriageway (the width in the data, else
 * lanes × lane width) plus the shoulder.
 */
export function wallOffsetM(link: Link, chainageM: number, rules: Rules, wall: Wall): number {
  const offsetM = halfWidthM(link, chainageM, rules) + rules.shoulderM;
  return centreOffsetM(link, chainageM, rules) + (wall === 'right' ? offsetM : -offsetM);
}

/** Half the carriageway's width at a chainage, metres. */
export function halfWidthM(link: Link, chainageM: number, rules: Rules): number {
  const stretch = stretchAt(link, chainageM);
  return (stretch?.widthM ?? (stretch?.lanes ?? link.lanes) * rules.laneWidthM) / 2;
}

/** From the drawn line to the middle of the carriageway at a chainage, metres, positive to the right. */
export function centreOffsetM(link: Link, chainageM: number, rules: Rules): number {
  const { centreLanes = 0, widthM, lanes = link.lanes } = stretchAt(link, chainageM) ?? {};
  return centreLanes * (widthM === undefined ? rules.laneWidthM : widthM / lanes);
}

function stretchAt(link: Link, chainageM: number): Stretch | undefined {
  return link.stretches.find((part) => chainageM <= part.toM) ?? link.stretches.at(-1);
}
