import { describe, expect, it } from 'vitest';
import { checkValues, type FieldSpec } from './check-values.ts';
import {
  BEACON_FIELDS,
  BEACON_PROFILES,
  DEFAULT_BEACON,
  DEFAULT_RECEIVER,
  RECEIVER_FIELDS,
  RECEIVER_PROFILES,
} from './profiles.ts';

type Fields = Readonly<Record<string, FieldSpec>>;
type Profiles = Readonly<Record<string, Readonly<Record<string, number>>>>;

const sets: readonly (readonly [string, Fields, Profiles])[] = [
  ['beacons', BEACON_FIELDS, BEACON_PROFILES],
  ['receivers', RECEIVER_FIELDS, RECEIVER_PROFILES],
];

describe.each(sets)('profiles of %s', (_, fields, profiles) => {
  it('have a meaning, a range and a source for every value', () => {
    for (const [name, spec] of Object.entries(fields)) {
      expect(spec.min, name).toBeLessThan(spec.max);
      for (const text of [spec.label, spec.meaning, spec.source])
        expect(text.length, name).toBeGreaterThan(5);
    }
  });

  it.each(Object.entries(profiles))(
    '%s holds every value, within its range, and no other',
    (_id, profile) => {
      expect(Object.keys(profile)).toEqual(Object.keys(fields));
      expect(checkValues(fields, profile)).toBeUndefined();
    },
  );
});

describe('values', () => {
  it.each([Number.NaN, -121, -39])(
    'are refused out of range with the name of the field: %s',
    (sensitivityDbm) => {
      const refusal = checkValues(RECEIVER_FIELDS, { ...RECEIVER_PROFILES.balanced, sensitivityDbm });
      expect(refusal).toMatchObject({
        code: 'rule-invalid',
        context: { rule: 'sensitivityDbm', min: -120, max: -40 },
      });
    },
  );

  it('never let a window be longer than its interval', () => {
    for (const { scanWindowMs, scanIntervalMs } of Object.values(RECEIVER_PROFILES)) {
      expect(scanWindowMs).toBeLessThanOrEqual(scanIntervalMs);
    }
  });

  it('start from profiles that exist', () => {
    expect(BEACON_PROFILES[DEFAULT_BEACON]).toBeDefined();
    expect(RECEIVER_PROFILES[DEFAULT_RECEIVER].scanWindowMs).toBe(183);
  });
});
