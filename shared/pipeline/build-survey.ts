import { buildNetwork, NETWORK_RULES, type NetworkRules } from '../network/build-network.ts';
import type { ComplexNetwork, TunnelNetwork } from '../network/network.ts';
import type { OsmExtract } from '../osm/extract.ts';
import type { Finding } from '../outcome/finding.ts';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';

/** What an extract gives before anything is designed. */
export type SurveyBase = {
  readonly network: TunnelNetwork;
  readonly findings: readonly Finding[];
  /** All ways of the extract, and the tunnel ways that became part of a link. */
  readonly ways: number;
  readonly tunnelWays: number;
};

/** Extract → network. Refused as `input-no-tunnels` where nothing was found that a car could drive through. */
export function buildSurvey(
  extract: OsmExtract,
  name: string,
  rules: NetworkRules = NETWORK_RULES,
): Result<SurveyBase> {
  const { value: network, findings } = buildNetwork(extract, rules);
  if (network.links.length === 0) return refused(refusal('input-no-tunnels', { name }));
  const used = new Set(network.links.flatMap((link) => link.stretches.map((stretch) => stretch.wayId)));
  return done({ network, findings, ways: extract.ways.length, tunnelWays: used.size });
}

/** Each complex with its own links, in the order of the complexes. */
export function listComplexNetworks(network: TunnelNetwork): readonly ComplexNetwork[] {
  const byId = new Map(network.links.map((link) => [link.id, link]));
  return network.complexes.map((complex) => ({
    complex,
    links: complex.linkIds.map((id) => {
      const link = byId.get(id);
      if (link === undefined) throw new Error(`complex ${complex.id} names a link that is not there: ${id}`);
      return link;
    }),
  }));
}
