import type { Finding, Staged } from '../../shared/outcome/finding.ts';
import { done, type Result } from '../../shared/outcome/result.ts';
import { describeFinding, titleOfFinding } from '../../shared/outcome/words.ts';
import { decodeText } from '../../shared/ranking/decode-text.ts';
import type { Evidence, MatchedEvidence } from '../../shared/ranking/evidence.ts';
import { readExisting } from '../../shared/ranking/read-existing.ts';
import { readTraffic } from '../../shared/ranking/read-traffic.ts';
import type { EvidenceReport, EvidenceView } from '../../shared/wire/ranking.ts';

/** What a file that is brought to a survey tells of. */
export type EvidenceKind = keyof Evidence;

/** A file as it was sent. */
export type EvidenceFile = { readonly name: string; readonly bytes: Uint8Array };

/** Reads one file of evidence; refused as `readTraffic` and `readExisting` say. */
export function readEvidenceFile(kind: EvidenceKind, { name, bytes }: EvidenceFile): Result<Evidence> {
  const text = decodeText(bytes);
  if (kind === 'traffic') {
    const traffic = readTraffic(text, name);
    return traffic.ok ? done({ traffic: traffic.value }) : traffic;
  }
  const existing = readExisting(text, name);
  return existing.ok ? done({ existing: existing.value }) : existing;
}

/** Evidence as it is told, with how much of it found its place. */
export function toEvidenceView({ traffic, existing }: Evidence, matched: MatchedEvidence): EvidenceView {
  return {
    ...(traffic === undefined
      ? {}
      : {
          traffic: {
            name: traffic.name,
            rows: traffic.rows.length,
            matched: matched.traffic.matchedCount,
            notes: traffic.notes.length,
          },
        }),
    ...(existing === undefined
      ? {}
      : {
          existing: {
            name: existing.name,
            items: existing.items.length,
            matched: matched.existing.matchedCount,
            notes: existing.notes.length,
          },
        }),
  };
}

/** So many lines of each list; nobody reads more. */
const MAX_LISTED = 500;

/** What became of each row of the files that were brought, worst first within a file. */
export function toEvidenceReport(
  { traffic, existing }: Evidence,
  { value, findings }: Staged<MatchedEvidence>,
): EvidenceReport {
  const matches = Object.values(value.existing.byComplex)
    .flat()
    .sort((a, b) => b.distanceM - a.distanceM || a.item.line - b.item.line);
  return {
    ...(traffic === undefined ? {} : { traffic: listRows('traffic-', findings) }),
    ...(existing === undefined
      ? {}
      : {
          existing: {
            ...listRows('existing-', findings),
            matches: matches.slice(0, MAX_LISTED).map(({ item, complexId, at, distanceM, side }) => ({
              line: item.line,
              ...(item.deviceId === undefined ? {} : { deviceId: item.deviceId }),
              ...(item.state === undefined ? {} : { state: item.state }),
              complex: complexId,
              chainageM: round(at.chainageM),
              distanceM: round(distanceM),
              side,
            })),
            matchCount: matches.length,
          },
        }),
  };
}

function listRows(prefix: string, findings: readonly Finding[]) {
  const own = findings
    .filter(({ code }) => code.startsWith(prefix))
    .sort((a, b) => weigh(a) - weigh(b) || Number(a.subject.id) - Number(b.subject.id));
  const rows = own.slice(0, MAX_LISTED).map((finding) => ({
    line: Number(finding.subject.id),
    code: finding.code,
    severity: finding.severity,
    title: titleOfFinding(finding.code),
    detail: describeFinding(finding),
  }));
  return { rows, rowCount: own.length };
}

const weigh = ({ severity }: Finding): number => ['error', 'warning', 'info'].indexOf(severity);
const round = (metres: number): number => Math.round(metres * 10) / 10;
