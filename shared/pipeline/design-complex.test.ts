import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import { CHECK_RULES } from '../placement/design.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import { makeScheme } from '../scheme/scheme.ts';
import { listComplexNetworks } from './build-survey.ts';
import { designComplex } from './design-complex.ts';

function design(lengthM: number, rules: Partial<Rules> = {}, surveyRules: Rules = DEFAULT_RULES) {
  const tags = { highway: 'primary', tunnel: 'yes', maxspeed: '50', oneway: 'yes' };
  const extract = drawPlace({
    nodes: { 1: [0, 0], 2: [lengthM, 0] },
    ways: [{ id: 11, nodes: [1, 2], tags }],
  });
  const [network] = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
  if (network === undefined) throw new Error('the drawing has no tunnel');
  return designComplex(network, surveyRules, { ...makeScheme(network.complex.id), rules }).value;
}

describe('a design', () => {
  it('carries every check and the chance that it still holds', () => {
    const { checks, survival } = design(390);
    expect(checks.map(({ rule }) => rule)).toEqual([...CHECK_RULES]);
    expect(checks.filter(({ status }) => status === 'not met')).toEqual([]);
    expect(survival).toMatchObject({ method: 'exact', failureShare: 0.03, limitM: 80 });
    expect(design(390, { failureShare: 0 }).survival?.share).toBe(1);
  });

  it('of a tunnel that is only listed has none', () => {
    const listed = design(60);
    expect(listed).toMatchObject({ beacons: [], checks: [] });
    expect(listed.survival).toBeUndefined();
  });

  it('takes the default where a survey is older than a rule', () => {
    const { redundancy, failureShare, ...older } = DEFAULT_RULES;
    const made = design(390, {}, older as Rules);
    expect(made.rules).toMatchObject({ redundancy, failureShare });
    expect(made.survival).toEqual(design(390).survival);
  });
});
