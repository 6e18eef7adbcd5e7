import { describe, expect, it } from 'vitest';
import rules from '../../data/profiles/rules.json';
import { checkValues, type FieldSpec } from './check-values.ts';
import { POWER_LIMITS } from './power-limits.ts';
import { BEACON_FIELDS, BEACON_PROFILES, eirpDbm, RECEIVER_FIELDS, RECEIVER_PROFILES } from './profiles.ts';

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
});

describe('the rules that choose a profile', () => {
  const { beaconProfile, receiverProfile, region } = rules.choices;

  it('offer the profiles and regions that there are, no other', () => {
    expect(Object.keys(beaconProfile.options)).toEqual(Object.keys(BEACON_PROFILES));
    expect(Object.keys(receiverProfile.options)).toEqual(Object.keys(RECEIVER_PROFILES));
    expect(Object.keys(region.options)).toEqual(POWER_LIMITS.map((limit) => limit.region));
    expect(BEACON_PROFILES).toHaveProperty(beaconProfile.fallback);
    expect(RECEIVER_PROFILES).toHaveProperty(receiverProfile.fallback);
  });

  it.each(Object.entries(BEACON_PROFILES))('say of the beacon %s what it holds', (id, profile) => {
    const { intervalMs, capacityMah } = profile;
    const interval = intervalMs === 1000 ? 'second' : `${intervalMs} ms`;
    const text = `${eirpDbm(profile)} dBm every ${interval} from ${capacityMah} mAh.`;
    expect(beaconProfile.options).toMatchObject({ [id]: text });
  });

  it.each(Object.entries(RECEIVER_PROFILES))('say of the receiver %s how long it listens', (id, profile) => {
    const shares = { 'all the time': 1, 'a quarter of the time': 0.25, 'a tenth of the time': 0.1 };
    const text = (receiverProfile.options as Readonly<Record<string, string>>)[id] ?? '';
    const [, said = ''] = /^Listens (.* the time)/.exec(text) ?? [];
    const share = profile.scanWindowMs / profile.scanIntervalMs;
    expect(shares).toHaveProperty([said]);
    expect(share).toBeCloseTo(shares[said as keyof typeof shares], 2);
  });

  it('name the rule that a region’s limit is from', () => {
    for (const limit of POWER_LIMITS) {
      expect(limit.source).toContain(region.options[limit.region].replace(/\.$/, ''));
    }
  });
});

describe('radiated power', () => {
  it('is transmit power and antenna gain', () => {
    expect(eirpDbm({ txPowerDbm: 8, antennaDbi: -3 })).toBe(5);
  });
});
