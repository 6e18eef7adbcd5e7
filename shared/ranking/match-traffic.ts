import type { Link, TunnelNetwork } from '../network/network.ts';
import type { Finding, Staged } from '../outcome/finding.ts';
import { assumeTraffic } from './assume-traffic.ts';
import { indexLinks } from './index-links.ts';
import { rowFinding, toNoteFindings } from './row-note.ts';
import { makeSplitter, type Share } from './split-traffic.ts';
import type { LinkTraffic, Traffic, TrafficFile, TrafficRow, TrafficSource } from './traffic.ts';

/** A row's word on a link; `coverM`: the length of the link that the row's way gave, for counts by way. */
type Claim = LinkTraffic & { readonly line: number; readonly coverM: number };

const RANK: Readonly<Record<TrafficSource, number>> = { way: 0, ref: 1, name: 2, class: 3 };

/**
 * Gives every link its traffic: of the rows that name it the most exact one (way, then ref, then name), the default of
 * its road class where none does. A row's most exact key decides where it belongs; case does not matter.
 *
 * A count by way holds for each link that the way is part of. A count by ref or name is that of the road: it holds for
 * every main carriageway of that ref or name (ramps, `…_link`, only where there is none), and where several of its
 * one-way bores lie side by side in a complex, it is split evenly between them, which a finding says; on a one-way bore
 * by itself it holds whole, which a finding says, too: the other direction may be part of it. So do rows that
 * met no link, that met several complexes by name, or that another row overrules with a different count.
 */
export function matchTraffic(network: TunnelNetwork, file?: TrafficFile): Staged<Traffic> {
  const claim = makeClaimer(network);
  const claims = new Map<Link, Claim[]>(network.links.map((link) => [link, []]));
  const findings: Finding[] = [];
  let matchedCount = 0;
  for (const row of file?.rows ?? []) {
    const found = claim(row);
    findings.push(...found.findings);
    if (found.claims.length > 0) matchedCount += 1;
    for (const [link, one] of found.claims) claims.get(link)?.push(one);
  }
  const byLink = [...claims].map(([link, all]): [string, LinkTraffic] => {
    const [best, ...others] = all.sort(compareClaims);
    if (best === undefined) return [link.id, assumeTraffic(link)];
    for (const one of listOverruled(link, best, others)) findings.push(one);
    const { coverM: _, ...traffic } = best;
    return [link.id, traffic];
  });
  const notes = toNoteFindings(file?.notes ?? [], {
    unusable: 'traffic-row-unusable',
    ignored: 'traffic-value-ignored',
  });
  const value = { byLink: Object.fromEntries(byLink), rowCount: file?.rows.length ?? 0, matchedCount };
  return { value, findings: [...notes, ...findings] };
}

type Found = { readonly claims: readonly (readonly [Link, Claim])[]; readonly findings: readonly Finding[] };

/** Makes the function that says which links a row names, and what should be known of that. */
function makeClaimer(network: TunnelNetwork): (row: TrafficRow) => Found {
  const index = indexLinks(network);
  const split = makeSplitter(index.complexOf);
  const roads = { ref: index.byRef, name: index.byName };
  return (row) => {
    const { line, way, ref, name = '' } = row;
    if (way !== undefined) {
      const links = index.byWay.get(way) ?? [];
      if (links.length === 0) return unmatched(line, 'way', way);
      return {
        claims: links.map((link) => [link, toClaim(row, 'way', 1, coverOf(link, way))]),
        findings: [],
      };
    }
    const [source, key] = ref === undefined ? (['name', name] as const) : (['ref', ref] as const);
    const links = roads[source].get(index.fold(key));
    return links === undefined ? unmatched(line, source, key) : claimRoad(row, source, key, split(links));
  };
}

function claimRoad(row: TrafficRow, source: 'ref' | 'name', key: string, shares: readonly Share[]): Found {
  const complexes = [...new Set(shares.map(({ complex }) => complex.id))];
  const findings = complexes.flatMap((tunnel) => {
    const own = shares.filter(({ complex }) => complex.id === tunnel);
    const bores = own.reduce((most, { abreast }) => Math.max(most, abreast), 1);
    if (bores === 1 && own.every(({ link }) => link.direction === 'forward'))
      return [rowFinding('traffic-row-one-way', row.line, { [source]: key, tunnel }, undefined, tunnel)];
    if (bores === 1) return [];
    return [rowFinding('traffic-row-split', row.line, { [source]: key, tunnel, bores }, undefined, tunnel)];
  });
  if (source === 'name' && complexes.length > 1) {
    findings.push(rowFinding('traffic-row-ambiguous', row.line, { name: key, tunnels: complexes.join(' ') }));
  }
  const claims = shares.map(
    ({ link, abreast }) => [link, toClaim(row, source, abreast, link.lengthM)] as const,
  );
  return { claims, findings };
}

function toClaim(row: TrafficRow, source: TrafficSource, abreast: number, coverM: number): Claim {
  const { line, vehiclesPerDay, heavyShare } = row;
  return {
    vehiclesPerDay: vehiclesPerDay / abreast,
    ...(heavyShare === undefined ? {} : { heavyShare }),
    source,
    line,
    coverM,
  };
}

function coverOf({ stretches }: Link, way: number): number {
  return stretches.reduce((sum, { wayId, fromM, toM }) => sum + (wayId === way ? toM - fromM : 0), 0);
}

/** The more exact source first, then the way that gave most of the link, then the row that came first. */
function compareClaims(a: Claim, b: Claim): number {
  return RANK[a.source] - RANK[b.source] || b.coverM - a.coverM || a.line - b.line;
}

/** Rows that say otherwise although they are as exact as the one that was taken. */
function listOverruled(link: Link, best: Claim, others: readonly Claim[]): readonly Finding[] {
  return others
    .filter(({ source, vehiclesPerDay }) => source === best.source && vehiclesPerDay !== best.vehiclesPerDay)
    .map(({ line, vehiclesPerDay }) => {
      const params = { link: link.id, vehiclesPerDay, taken: best.vehiclesPerDay, takenLine: best.line };
      return rowFinding('traffic-rows-differ', line, params, undefined, link.id);
    });
}

function unmatched(line: number, key: TrafficSource, value: string | number): Found {
  return { claims: [], findings: [rowFinding('traffic-row-unmatched', line, { [key]: value })] };
}
