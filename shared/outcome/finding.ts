import type { LonLat } from '../geodesy/lon-lat.ts';

/** What the data lacked, or what was assumed or dropped, while the work went on. */
export const FINDINGS = {
  // ways that were left out
  'way-not-drivable': 'info',
  'way-tunnel-value': 'info',
  'way-not-in-use': 'info',
  'way-area': 'info',
  'way-too-short': 'warning',
  'way-nodes-missing': 'warning',
  // values that were assumed or not understood
  'lanes-assumed': 'info',
  'lanes-unreadable': 'warning',
  'maxspeed-assumed': 'info',
  'maxspeed-unreadable': 'warning',
  'maxspeed-variable': 'info',
  'width-unreadable': 'warning',
  'placement-unreadable': 'warning',
  'placement-transition': 'info',
  'oneway-unreadable': 'warning',
  'oneway-reversible': 'warning',
  'restriction-unreadable': 'warning',
  // the shape of the network
  'portal-dead-end': 'warning',
  'portal-extract-edge': 'warning',
  'override-unmatched': 'warning',
  'routes-cut': 'warning',
  'complex-grouped': 'info',
  // designs
  'complex-not-designed': 'info',
  // traffic counts
  'traffic-row-unusable': 'warning',
  'traffic-value-ignored': 'warning',
  'traffic-row-unmatched': 'warning',
  'traffic-row-ambiguous': 'warning',
  'traffic-rows-differ': 'warning',
  'traffic-row-split': 'info',
  'traffic-row-one-way': 'warning',
  // beacons that are there already
  'existing-unusable': 'warning',
  'existing-value-ignored': 'warning',
  'existing-unmatched': 'warning',
  'existing-ambiguous': 'warning',
} as const satisfies Record<string, Severity>;

export type Severity = 'error' | 'warning' | 'info';
export type FindingCode = keyof typeof FINDINGS;

/** What a finding is about: an OSM object, one of ours by its id, or a row of a file by its line. */
export type Subject = {
  readonly kind: 'way' | 'node' | 'relation' | 'link' | 'complex' | 'beacon' | 'row';
  readonly id: string;
};

export type Finding = {
  readonly id: string;
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly subject: Subject;
  readonly at?: LonLat;
  readonly params: Readonly<Record<string, string | number>>;
};

/** Makes a finding whose id follows from its code, subject and `part`, so that two runs give the same id. */
export function finding(
  code: FindingCode,
  subject: Subject,
  params: Finding['params'] = {},
  at?: LonLat,
  part?: string,
): Finding {
  const id = `${code}:${subject.kind}/${subject.id}${part === undefined ? '' : `#${part}`}`;
  return { id, code, severity: FINDINGS[code], subject, params, ...(at === undefined ? {} : { at }) };
}

/** A stage's output: the value and what was noticed on the way. */
export type Staged<T> = { readonly value: T; readonly findings: readonly Finding[] };
