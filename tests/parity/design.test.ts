import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readExtractFile } from '../../server/extracts/read-extract.ts';
import { makeCollection } from '../../shared/export/make-collection.ts';
import { OSM_ORIGIN } from '../../shared/export/origin.ts';
import { toBeaconFeatures } from '../../shared/export/to-beacon-features.ts';
import { toCoverageFeatures } from '../../shared/export/to-coverage-features.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { buildSurvey, listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';

/**
 * The browser's worker gets the network and the scheme as JSON and lays the design itself; the server keeps
 * objects. Both must give the same bytes. (tests/e2e compares the two homes in a real browser.)
 */
describe('a design computed from JSON', () => {
  it('is byte-equal to the one computed from objects, for every tunnel of the demo city', async () => {
    const extract = await readExtractFile(join(import.meta.dirname, '../../data/demo/aldermouth.osm'), {
      name: 'demo',
    });
    if (!extract.ok) throw new Error(extract.refusal.code);
    const base = buildSurvey(extract.value, 'demo');
    if (!base.ok) throw new Error(base.refusal.code);
    const networks = listComplexNetworks(base.value.network);
    expect(networks.length).toBeGreaterThan(20);
    for (const network of networks) {
      const scheme = editedScheme(network);
      const sent = JSON.parse(JSON.stringify({ network, scheme, rules: DEFAULT_RULES }));
      expect(toBytes(sent.network, sent.scheme)).toBe(toBytes(network, scheme));
    }
  });
});

/** A scheme with a rule and one moved beacon where the tunnel has one to move. */
function editedScheme(network: ComplexNetwork): Scheme {
  const scheme = { ...makeScheme(network.complex.id), rules: { spacingM: 33 } };
  const beacon = designComplex(network, DEFAULT_RULES, scheme).value.beacons[1];
  return beacon === undefined
    ? scheme
    : { ...scheme, pinned: [{ id: beacon.id, at: beacon.at, anchor: 'position' }] };
}

function toBytes(network: ComplexNetwork, scheme: Scheme): string {
  const { value: design, findings } = designComplex(network, DEFAULT_RULES, scheme);
  return JSON.stringify([
    makeCollection(toBeaconFeatures(network, design), OSM_ORIGIN),
    makeCollection(toCoverageFeatures(network, design), OSM_ORIGIN),
    design.checks,
    design.survival,
    findings,
  ]);
}
