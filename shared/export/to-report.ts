import type { Feature, Point } from 'geojson';
import type { Finding, Severity } from '../outcome/finding.ts';
import { describeFinding, titleOfFinding } from '../outcome/words.ts';
import type { ImportReport } from '../wire/survey.ts';
import { makeFeature, toPosition } from './make-collection.ts';
import type { Origin } from './origin.ts';

const WEIGHT: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2 };

/** The import report: per reason a count and the objects, worst reasons first. */
export function toReport(findings: readonly Finding[], origin: Origin): ImportReport {
  const byCode = new Map<Finding['code'], Finding[]>();
  for (const finding of findings) byCode.set(finding.code, [...(byCode.get(finding.code) ?? []), finding]);
  const reasons = [...byCode].map(([code, items]) => ({
    code,
    severity: (items[0] as Finding).severity,
    title: titleOfFinding(code),
    count: items.length,
    items: items.map((finding) => {
      const link = linkOf(finding, origin);
      return {
        id: finding.id,
        subject: finding.subject,
        ...(link === undefined ? {} : { link }),
        ...(finding.at === undefined ? {} : { at: toPosition(finding.at) }),
        detail: describeFinding(finding),
      };
    }),
  }));
  reasons.sort(
    (a, b) => WEIGHT[a.severity] - WEIGHT[b.severity] || b.count - a.count || (a.code < b.code ? -1 : 1),
  );
  return { reasons };
}

/** The findings that have a place, as points for the map. */
export function toFindingFeatures(findings: readonly Finding[]): Feature<Point>[] {
  return findings.flatMap((finding) =>
    finding.at === undefined
      ? []
      : [
          makeFeature(
            finding.id,
            { type: 'Point', coordinates: toPosition(finding.at) },
            {
              code: finding.code,
              severity: finding.severity,
              title: titleOfFinding(finding.code),
              detail: describeFinding(finding),
              subject: `${finding.subject.kind}/${finding.subject.id}`,
            },
          ),
        ],
  );
}

function linkOf({ subject }: Finding, { objectUrl }: Origin): string | undefined {
  const isOsm = subject.kind === 'way' || subject.kind === 'node' || subject.kind === 'relation';
  return isOsm && objectUrl !== undefined ? `${objectUrl}/${subject.kind}/${subject.id}` : undefined;
}
