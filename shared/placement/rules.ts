/** One rule's meaning and the range that is accepted. Units are in the name's suffix. */
export type RuleSpec = {
  readonly unit: 'm' | 's' | '';
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly fallback: number;
  readonly label: string;
  readonly meaning: string;
  readonly source: string;
};

const practice = 'common practice, no source';
const own = 'project default';

/** The rules of a design: range, default and source of every value. */
export const RULES = {
  spacingM: {
    unit: 'm',
    min: 5,
    max: 500,
    step: 1,
    fallback: 40,
    label: 'Spacing',
    meaning: 'Greatest distance along the bore from one beacon to the next.',
    source: practice,
  },
  coverageRadiusM: {
    unit: 'm',
    min: 5,
    max: 500,
    step: 1,
    fallback: 40,
    label: 'Coverage radius',
    meaning: 'How far along the bores a receiver hears a beacon; set by hand.',
    source: own,
  },
  mountingHeightM: {
    unit: 'm',
    min: 0.5,
    max: 8,
    step: 0.1,
    fallback: 3,
    label: 'Mounting height',
    meaning: 'Height of the beacon above the carriageway.',
    source: practice,
  },
  laneWidthM: {
    unit: 'm',
    min: 2,
    max: 6,
    step: 0.05,
    fallback: 3.5,
    label: 'Lane width',
    meaning: 'Width of one lane where the data give no width; half the carriageway leads to the wall.',
    source: own,
  },
  shoulderM: {
    unit: 'm',
    min: 0,
    max: 6,
    step: 0.1,
    fallback: 1,
    label: 'Shoulder',
    meaning: 'From the edge of the carriageway to the wall.',
    source: own,
  },
  minimumOutageS: {
    unit: 's',
    min: 0,
    max: 120,
    step: 1,
    fallback: 10,
    label: 'Shortest tunnel to equip',
    meaning:
      'Driving time at the speed limit below which a tunnel without a decision point is listed, not designed.',
    source: own,
  },
  redundancy: {
    unit: '',
    min: 1,
    max: 4,
    step: 1,
    fallback: 2,
    label: 'Redundancy',
    meaning: 'Where any single beacon fails, no gap may be longer than this times the spacing.',
    source: practice,
  },
  failureShare: {
    unit: '',
    min: 0,
    max: 0.5,
    step: 0.005,
    fallback: 0.03,
    label: 'Failed share',
    meaning: 'Chance that one beacon has failed: for the chance that the whole design still holds.',
    source: own,
  },
} as const satisfies Record<string, RuleSpec>;

export type RuleName = keyof typeof RULES;

/** The wall that carries the beacons, seen in the direction of chainage. */
export type Side = 'left' | 'right';

export type Rules = { readonly [K in RuleName]: number } & { readonly side: Side };

/** The values that hold unless a survey or a scheme says otherwise. */
export const DEFAULT_RULES: Rules = {
  ...(Object.fromEntries(Object.entries(RULES).map(([name, spec]) => [name, spec.fallback])) as {
    [K in RuleName]: number;
  }),
  side: 'right',
};
