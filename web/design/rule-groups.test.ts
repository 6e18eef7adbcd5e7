import { expect, it } from 'vitest';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { RULE_GROUPS } from './rule-groups.ts';

it('puts every rule into one group: none can be changed nowhere', () => {
  const grouped = Object.values(RULE_GROUPS).flat();
  expect([...grouped].sort()).toEqual(Object.keys(DEFAULT_RULES).sort());
});
