import type { LonLat } from '../geodesy/lon-lat.ts';
import type { ComplexId, LinkId } from '../network/network.ts';
import type { LinkStretch } from '../radio/cover-bores.ts';
import type { Beacon, BeaconId } from './beacon.ts';
import type { Fewest } from './fewest/lay-fewest.ts';
import type { Rules } from './rules.ts';

/** What a design is checked for; each rule gives one check. */
export const CHECK_RULES = [
  'gap',
  'coverage',
  'single-failure',
  'pair-failure',
  'portal-beacon',
  'decision-sight',
  'branch-confirmation',
  'branch-ambiguity',
  'keep-out',
  'sister-pairs',
  'power-limit',
  'line-accuracy',
] as const;
export type CheckRule = (typeof CHECK_RULES)[number];

/** How a broken rule is mended; the words are made in the web. */
export type Mend =
  | 'release-beacon'
  | 'reduce-spacing'
  | 'reach-farther'
  | 'raise-redundancy'
  | 'beacon-at-portal'
  | 'beacon-before-fork'
  | 'beacon-after-fork'
  | 'beacon-farther-from-fork'
  | 'leave-keep-out'
  | 'shorten-keep-out'
  | 'weaker-beacons'
  | 'survey-on-site';

/** A place that a check is about, and what was found there in the check's unit. */
export type CheckPlace = {
  readonly linkId: LinkId;
  readonly chainageM: number;
  readonly at: LonLat;
  readonly found: number;
  readonly beaconId?: BeaconId;
};

/** One rule, held against a design. A `note` asks for nothing but should be known. */
export type Check = {
  readonly rule: CheckRule;
  readonly status: 'met' | 'not met' | 'note' | 'not applicable';
  /** The limit, and the worst that was found; absent where the rule does not apply, the limit for a plain report. */
  readonly required?: number;
  readonly found?: number;
  readonly unit: 'm' | 'beacons' | 'dBm';
  /** The worst places first, only the first few. */
  readonly where: readonly CheckPlace[];
  readonly mend?: Mend;
};

/** The chance that no gap is above `limitM` where each beacon has failed with the chance `failureShare`. */
export type Survival = {
  readonly share: number;
  readonly failureShare: number;
  readonly limitM: number;
  /** `simulated` where bores form more rings than can be told apart case by case, with the count of seeded trials. */
  readonly method: 'exact' | 'simulated';
  readonly trials?: number;
};

/** Along which stretches one beacon is heard: up to `radiusM` along the bores. */
export type Heard = {
  readonly beaconId: BeaconId;
  readonly radiusM: number;
  readonly stretches: readonly LinkStretch[];
};

/** What follows from a complex, the survey's rules and a scheme. The same bytes wherever it is computed. */
export type Design = {
  readonly complexId: ComplexId;
  /** The values that were used. */
  readonly rules: Rules;
  readonly beacons: readonly Beacon[];
  /** Along which stretches each beacon is heard, in the order of `beacons`. */
  readonly coverage: readonly Heard[];
  /** Only where the rules' method is the fewest. */
  readonly fewest?: Fewest;
  /** In the order of CHECK_RULES; empty where nothing is designed. */
  readonly checks: readonly Check[];
  /** Absent where nothing is designed. */
  readonly survival?: Survival;
};
