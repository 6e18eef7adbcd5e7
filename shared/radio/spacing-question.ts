import { checkValues, type FieldSpec } from './check-values.ts';
import type { PassInput } from './detect-pass.ts';

/** What is asked of the beacons of a bore. */
export type SpacingQuestion = Pick<PassInput, 'beacon' | 'receiver'> & {
  /** The speed that the receiver assumes; no car is faster. */
  readonly speedMps: number;
  /** Assumed speed / true speed − 1 of the slowest car: cars are driven at `speedMps` down to this much slower. */
  readonly speedDiscrepancy: number;
  /** How far along the bore a beacon is heard. */
  readonly radiusM: number;
  /** How many beacons are to be heard everywhere. */
  readonly coverageDepth: number;
  readonly portalOffsetM: number;
  /** Chance that a beacon has failed, each on its own. */
  readonly failureShare: number;
  /** The greatest error along the bore that is accepted. */
  readonly wantedErrorM: number;
  /** Chance, 0 to 1, that one of the beacons of a row is heard. */
  readonly certainty: number;
};

type QuestionField = Exclude<keyof SpacingQuestion, 'beacon' | 'receiver'>;

const OWN = 'choice of who asks';

/** Meaning and range of what is asked. */
export const QUESTION_FIELDS: Readonly<Record<QuestionField, FieldSpec>> = {
  speedMps: {
    unit: 'm/s',
    min: 5,
    max: 60,
    label: 'Assumed speed',
    meaning: 'What the receiver assumes between two beacons; no car is faster.',
    source: 'the speed limit unless given',
  },
  speedDiscrepancy: {
    unit: '',
    min: 0,
    max: 1,
    label: 'Speed discrepancy',
    meaning: 'How much the assumed speed is above that of the slowest car, as a share of the latter.',
    source: 'project default',
  },
  radiusM: {
    unit: 'm',
    min: 1,
    max: 500,
    label: 'Coverage radius',
    meaning: 'How far along the bore a beacon is heard.',
    source: 'the radius in use',
  },
  coverageDepth: {
    unit: '',
    min: 1,
    max: 4,
    label: 'Coverage depth',
    meaning: 'How many beacons at least are heard everywhere.',
    source: 'rule',
  },
  portalOffsetM: {
    unit: 'm',
    min: 0,
    max: 50,
    label: 'Portal offset',
    meaning: 'How far inside the portal the first beacon stands.',
    source: 'rule',
  },
  failureShare: {
    unit: '',
    min: 0,
    max: 0.5,
    label: 'Failed share',
    meaning: 'Chance that one beacon has failed.',
    source: 'rule',
  },
  wantedErrorM: {
    unit: 'm',
    min: 1,
    max: 500,
    label: 'Wanted error',
    meaning: 'The greatest error along the bore that is accepted, just before the next beacon is heard.',
    source: OWN,
  },
  certainty: {
    unit: '',
    min: 0.5,
    max: 0.9999,
    label: 'Certainty',
    meaning: 'How often at least one beacon of a row is to be heard.',
    source: OWN,
  },
};

/** The refusal `rule-invalid` for the first value of a question that is out of range; undefined where all fit. */
export function checkQuestion(question: SpacingQuestion) {
  return checkValues(QUESTION_FIELDS, question);
}
