import type { Link, LinkId } from '../../shared/network/network.ts';
import type { Beacon } from '../../shared/placement/beacon.ts';
import type { KeepOut } from '../../shared/placement/keep-out.ts';
import { formatNumber, parseChainage } from '../ui/format.ts';
import { words } from '../words.ts';

/** A keep-out while it is being typed; without a link it follows the chosen beacon. */
export type KeepOutDraft = {
  readonly linkId?: LinkId;
  readonly from: string;
  readonly to: string;
  readonly wall: KeepOut['wall'];
  readonly reason: string;
};

/** What is wrong with the ends as they are typed, in words. */
export type DraftFaults = { readonly from?: string; readonly to?: string };

export const EMPTY_DRAFT: KeepOutDraft = { from: '', to: '', wall: 'both', reason: '' };

/** How far a keep-out around a beacon reaches to each side, metres. */
const AROUND_M = 2;

/** A keep-out around a beacon on its wall, within its link. */
export function draftAround({ at, side }: Beacon, links: readonly Link[]): KeepOutDraft {
  const lengthM = links.find(({ id }) => id === at.linkId)?.lengthM ?? 0;
  const [fromM, toM] = [Math.max(0, at.chainageM - AROUND_M), Math.min(lengthM, at.chainageM + AROUND_M)];
  // Rounded inwards at the end of the link: it must not reach past it.
  const text = (valueM: number) => (Math.floor(valueM * 10) / 10).toFixed(1);
  return { linkId: at.linkId, from: text(fromM), to: text(toM), wall: side, reason: '' };
}

/** The stretch as typed, or what is wrong with it. Nothing is said of an end that is still empty, unless `isAsked`. */
export function readDraft(
  { from, to, wall, reason }: KeepOutDraft,
  link: Link,
  isAsked: boolean,
): { readonly keepOut?: Omit<KeepOut, 'id'>; readonly faults: DraftFaults } {
  const [fromM, toM] = [parseEnd(from, link), parseEnd(to, link)];
  const fromFault = findFault(from, fromM, link, isAsked);
  const isBackward = fromM !== undefined && toM !== undefined && toM <= fromM;
  const toFault = findFault(to, toM, link, isAsked) ?? (isBackward ? words.keepOuts.faults.order : undefined);
  const faults = {
    ...(fromFault === undefined ? {} : { from: fromFault }),
    ...(toFault === undefined ? {} : { to: toFault }),
  };
  if (fromM === undefined || toM === undefined || fromFault !== undefined || toFault !== undefined) {
    return { faults };
  }
  return { keepOut: { linkId: link.id, fromM, toM, wall, reason: reason.trim() }, faults };
}

function findFault(
  text: string,
  valueM: number | undefined,
  { lengthM }: Link,
  isAsked: boolean,
): string | undefined {
  const say = words.keepOuts.faults;
  if (text.trim() === '') return isAsked ? say.missing : undefined;
  if (valueM === undefined) return say.unreadable;
  return valueM > lengthM ? say.range(formatNumber(lengthM, 1)) : undefined;
}

/** The length as it is shown, to the decimetre, means the end of the link. */
function parseEnd(text: string, { lengthM }: Link): number | undefined {
  const valueM = parseChainage(text);
  return valueM !== undefined && valueM > lengthM && valueM <= lengthM + 0.05 ? lengthM : valueM;
}
