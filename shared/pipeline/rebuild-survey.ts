import { NETWORK_RULES } from '../network/build-network.ts';
import type { GroupingOverride } from '../network/group-links.ts';
import { keepIdentity } from '../network/keep-identity.ts';
import { type LinkPiece, matchLinks } from '../network/match-links.ts';
import type { TunnelNetwork } from '../network/network.ts';
import type { OsmExtract } from '../osm/extract.ts';
import { done, type Result } from '../outcome/result.ts';
import { buildSurvey, type SurveyBase } from './build-survey.ts';

/** A survey's network built anew, under the ids that it had; `pieces` tell where its links went. */
export type Rebuilt = SurveyBase & { readonly pieces: readonly LinkPiece[] };

/**
 * Extract → network, for a survey that has one already: from a newer extract, or from the same one with other words
 * on which bores are one tunnel. Refused as `input-no-tunnels`.
 */
export function rebuildSurvey(
  before: TunnelNetwork,
  extract: OsmExtract,
  name: string,
  overrides: readonly GroupingOverride[],
): Result<Rebuilt> {
  const base = buildSurvey(extract, name, { ...NETWORK_RULES, overrides });
  if (!base.ok) return base;
  const { network, findings } = base.value;
  const found = matchLinks(before.links, network.links);
  const { value, findings: renamed, pieces } = keepIdentity(before, { value: network, findings }, found);
  return done({ ...base.value, network: value, findings: renamed, pieces });
}
