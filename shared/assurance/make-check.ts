import type { LineAddress } from '../alignment/line-address.ts';
import { makeRuler, type Ruler } from '../alignment/make-ruler.ts';
import type { Link, LinkId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { Check, CheckPlace, CheckRule, Mend } from '../placement/design.ts';

/** What was found at one place, in the check's unit. */
export type Measured = { readonly found: number; readonly at: LineAddress; readonly beaconId?: BeaconId };

/** What a rule asks: at most, or at least, so much. Without a limit it only tells. */
export type Ask = {
  readonly rule: CheckRule;
  readonly unit: Check['unit'];
  readonly atMost?: number;
  readonly atLeast?: number;
  /** What breaks the limit is only worth knowing; without a limit, all of it is. */
  readonly isNote?: boolean;
  readonly mend: (worst: Measured) => Mend;
};

/** Rounding that must not break a rule. */
const SLACK = 1e-6;
/** More places than these say nothing new. */
const MAX_PLACES = 5;

/** Makes the function that holds what was measured against a rule; nothing measured is `not applicable`. */
export function makeChecker(links: readonly Link[]): (ask: Ask, measured: readonly Measured[]) => Check {
  const byId = new Map(links.map((link) => [link.id, link]));
  const rulers = new Map<LinkId, Ruler>();
  const toPlace = ({ found, at, beaconId }: Measured): CheckPlace => {
    const link = byId.get(at.linkId) as Link;
    const ruler = rulers.get(link.id) ?? makeRuler(link.line);
    rulers.set(link.id, ruler);
    const chainageM = Math.min(ruler.lengthM, Math.max(0, at.chainageM));
    const place = ruler.pointAt(chainageM);
    if (!place.ok) throw new Error(`a check names a place outside link ${link.id}`);
    const whose = beaconId === undefined ? {} : { beaconId };
    return { linkId: link.id, chainageM, at: place.value, found, ...whose };
  };
  return (ask, measured) => {
    const { rule, unit, atMost, atLeast } = ask;
    const required = atMost ?? atLeast;
    const limits = { rule, unit, ...(required === undefined ? {} : { required }) };
    const sorted = sortWorstFirst(measured, atLeast !== undefined);
    const worst = sorted[0];
    if (worst === undefined) return { ...limits, status: 'not applicable', where: [] };
    const isBroken = ({ found }: Measured) =>
      (atMost !== undefined && found > atMost + SLACK) || (atLeast !== undefined && found < atLeast - SLACK);
    const broken = sorted.filter(isBroken);
    const isToldOnly = ask.isNote === true || required === undefined;
    const told = ask.isNote === true && required === undefined ? sorted : broken;
    const shown = told.length > 0 ? told.slice(0, MAX_PLACES) : [worst];
    return {
      ...limits,
      status: broken.length === 0 && required !== undefined ? 'met' : isToldOnly ? 'note' : 'not met',
      found: worst.found,
      where: shown.map(toPlace),
      ...(broken.length === 0 ? {} : { mend: ask.mend(worst) }),
    };
  };
}

/** The worst first, each place once; equal ones by link and chainage, whatever order they came in. */
function sortWorstFirst(measured: readonly Measured[], isLeastWorst: boolean): readonly Measured[] {
  const sign = isLeastWorst ? 1 : -1;
  // Both directions of a two-way bore differ by rounding only.
  const rounded = ({ found }: Measured) => Math.round(found * 1e6);
  const sorted = [...measured].sort(
    (a, b) =>
      sign * (rounded(a) - rounded(b)) || byText(a.at.linkId, b.at.linkId) || a.at.chainageM - b.at.chainageM,
  );
  const seen = new Set<string>();
  return sorted.filter(({ at, beaconId }) => {
    const key = beaconId ?? `${at.linkId} ${Math.round(at.chainageM * 1000)}`;
    return seen.has(key) ? false : seen.add(key);
  });
}
