import { NETWORK_RULES } from '../network/build-network.ts';
import type { GroupingOverride } from '../network/group-links.ts';
import { keepIdentity } from '../network/keep-identity.ts';
import { type LinkPiece, matchLinks } from '../network/match-links.ts';
import type { Link, TunnelNetwork } from '../network/network.ts';
import type { OsmExtract } from '../osm/extract.ts';
import { done, type Result } from '../outcome/result.ts';
import { type RenamedWays, renameWays } from '../scheme/survey-log.ts';
import { buildSurvey, type SurveyBase } from './build-survey.ts';

/** A survey's network built anew, under the ids that it had; `pieces` tell where its links went. */
export type Rebuilt = SurveyBase & {
  readonly pieces: readonly LinkPiece[];
  /** Ways that words by hand name and that are others now: the old one and the one that is where it was. */
  readonly renamedWays: RenamedWays;
};

/**
 * Extract → network, for a survey that has one already: from a newer extract, or from the same one with other words
 * on which bores are one tunnel. Words that name a way which is no tunnel any more hold for the way that is where it
 * was. Refused as `input-no-tunnels`.
 */
export function rebuildSurvey(
  before: TunnelNetwork,
  extract: OsmExtract,
  name: string,
  overrides: readonly GroupingOverride[],
): Result<Rebuilt> {
  const first = rebuildOnce(before, extract, name, overrides);
  if (!first.ok) return first;
  const lost = first.value.findings.filter(({ code }) => code === 'override-unmatched');
  const renamedWays = lost.flatMap(({ subject }) => {
    const way = findHeirOfWay(Number(subject.id), before, first.value);
    return way === undefined ? [] : [[Number(subject.id), way] as const];
  });
  if (renamedWays.length === 0) return done({ ...first.value, renamedWays });
  const again = rebuildOnce(before, extract, name, renameWays(overrides, renamedWays));
  return again.ok ? done({ ...again.value, renamedWays }) : again;
}

function rebuildOnce(
  before: TunnelNetwork,
  extract: OsmExtract,
  name: string,
  overrides: readonly GroupingOverride[],
): Result<Omit<Rebuilt, 'renamedWays'>> {
  const base = buildSurvey(extract, name, { ...NETWORK_RULES, overrides });
  if (!base.ok) return base;
  const { network, findings } = base.value;
  const found = matchLinks(before.links, network.links);
  const { value, findings: renamed, pieces } = keepIdentity(before, { value: network, findings }, found);
  return done({ ...base.value, network: value, findings: renamed, pieces });
}

/** The way that most of the links of an old way run on now. */
function findHeirOfWay(
  wayId: number,
  before: TunnelNetwork,
  after: Omit<Rebuilt, 'renamedWays'>,
): number | undefined {
  const links = new Map(after.network.links.map((link) => [link.id, link]));
  const lengths = new Map<number, number>();
  for (const { id, stretches } of before.links) {
    for (const { fromM, toM } of stretches.filter((stretch) => stretch.wayId === wayId)) {
      for (const piece of after.pieces.filter((one) => one.beforeId === id)) {
        for (const [way, lengthM] of listWays(piece, fromM, toM, links.get(piece.afterId))) {
          lengths.set(way, (lengths.get(way) ?? 0) + lengthM);
        }
      }
    }
  }
  return [...lengths].sort(([a, aM], [b, bM]) => bM - aM || a - b)[0]?.[0];
}

/** The ways under the part of a piece that lies between two chainages of the old link, with their lengths there. */
function listWays(
  piece: LinkPiece,
  fromM: number,
  toM: number,
  link: Link | undefined,
): readonly (readonly [number, number])[] {
  const at = (chainageM: number) => {
    const share = (chainageM - piece.fromM) / (piece.toM - piece.fromM);
    return piece.atFromM + Math.min(1, Math.max(0, share)) * (piece.atToM - piece.atFromM);
  };
  const [lowM, highM] = [at(fromM), at(toM)].sort((a, b) => a - b) as [number, number];
  return (link?.stretches ?? [])
    .map((part) => [part.wayId, Math.min(highM, part.toM) - Math.max(lowM, part.fromM)] as const)
    .filter(([, lengthM]) => lengthM > 0);
}
