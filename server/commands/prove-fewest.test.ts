import { describe, expect, it } from 'vitest';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { DEFAULT_RULES, type Rules } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import { drawTunnel } from '../../tests/places/draw-tunnel.ts';
import { describeGap, proveFewest } from './prove-fewest.ts';

const network = drawTunnel(400);
const linkId = network.links[0]?.id as NonNullable<(typeof network.links)[0]>['id'];
const fewest: Rules = { ...DEFAULT_RULES, method: 'fewest' };
const scheme = makeScheme(network.complex.id);

describe('proveFewest', () => {
  it('adds the solver’s answer to the scheme', async () => {
    const proved = await proveFewest(network, fewest, scheme, 20);
    expect(proved.solution).toMatchObject({ bound: 11 });
    expect(proved.solution?.places).toHaveLength(11);
  });

  it('leaves the scheme as it is where nothing is to be proven, and at no time', async () => {
    expect(await proveFewest(network, DEFAULT_RULES, scheme, 20)).toBe(scheme);
    expect(await proveFewest(network, fewest, scheme, 0)).toBe(scheme);
  });

  it('names where the rules cannot be kept', () => {
    const keepOut = { id: 'k', linkId, fromM: 100, toM: 190, wall: 'both' as const, reason: '' };
    const { value } = designComplex(network, fewest, { ...scheme, keepOuts: [keepOut] });
    expect(value.fewest?.gaps.map(describeGap)).toContain(
      `past 0+100 of ${linkId} there is no free place within the spacing (0 of 1)`,
    );
    expect(describeGap({ kind: 'coverage', linkId, chainageM: 1234.4, need: 2, found: 1 })).toBe(
      `at 1+234 of ${linkId} only 1 of 2 beacons can be heard`,
    );
  });
});
