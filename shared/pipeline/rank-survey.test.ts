import { describe, expect, it } from 'vitest';
import { drawTunnel } from '../../tests/places/draw-tunnel.ts';
import type { ComplexNetwork } from '../network/network.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { DEFAULT_COSTS } from '../ranking/cost.ts';
import type { Traffic } from '../ranking/traffic.ts';
import { makeScheme } from '../scheme/scheme.ts';
import { designComplex } from './design-complex.ts';
import { askRanking, driveComplex, withRanking } from './rank-survey.ts';
import { toSurveyLayer } from './to-survey-layers.ts';

const network = drawTunnel(900, [{ at: 0.6, lengthM: 150 }]);
const design = designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id)).value;
const driven = { network, design, failures: driveComplex(network, design) };

function count(vehiclesPerDay: number, source: 'way' | 'class' = 'way'): Traffic {
  const links = network.links.map(({ id }) => [id, { vehiclesPerDay, source }] as const);
  return { byLink: Object.fromEntries(links), rowCount: 0, matchedCount: 0 };
}

describe('a survey that is ranked', () => {
  it('says of each tunnel what it misguides, and what its design costs', () => {
    const [one] = withRanking([driven], count(10_000), DEFAULT_RULES);
    const ranked = one?.ranked;
    const drive = driven.failures[0];
    const failing = (drive?.failures.without.late ?? 0) + (drive?.failures.without.early ?? 0);
    // Vehicles × guided share × failing share, by hand.
    expect(failing).toBeGreaterThan(0.05);
    expect(ranked?.misguided.perDay.without).toBeCloseTo(10_000 * 0.3 * failing, 9);
    expect(ranked?.misguided.perDay.with).toBeLessThan((ranked?.misguided.perDay.without ?? 0) / 4);
    // 29 beacons at 100, one night at 4,000 with one crew at 1,000.
    expect(ranked?.cost).toBe(design.beacons.length * 100 + 4_000 + 1_000);
    expect(ranked?.isTrafficAssumed).toBe(false);
  });

  it('tells it in the layers, and marks traffic that is assumed', () => {
    const designed = withRanking([driven], count(5_000, 'class'), DEFAULT_RULES);
    const members = { rules: DEFAULT_RULES, origin: { attribution: 'invented' } };
    const layer = (name: 'complexes' | 'decisions') =>
      toSurveyLayer(name, designed, [], members).features[0]?.properties;
    expect(layer('complexes')).toMatchObject({ rank: 1, vehiclesPerDay: 5000 });
    expect(layer('complexes')?.assumed).toContain('traffic');
    // 80 km/h for 14.5 s.
    expect(layer('decisions')).toMatchObject({ sightDistanceM: 322.5 });
    expect(layer('decisions')?.misguidedShare).toBeGreaterThan(layer('decisions')?.misguidedShareWithDesign);
  });

  it('leaves out what is not ranked, and refuses costs that may not be', () => {
    const closed: ComplexNetwork = { ...network, complex: { ...network.complex, restricted: true } };
    expect(driveComplex(closed, design)).toEqual([]);
    expect(withRanking([{ ...driven, network: closed }], count(1), DEFAULT_RULES)[0]?.ranked).toBeUndefined();
    const costs = { ...DEFAULT_COSTS, beaconCost: -1 };
    expect(askRanking([driven], count(1), DEFAULT_RULES, costs)).toMatchObject({ ok: false });
  });
});
