import { type Finding, type FindingCode, finding } from '../outcome/finding.ts';

/** What was wrong with a row of a file: `isUsed` where the rest of the row holds all the same. */
export type RowNote = {
  /** The line of a table, or the number of a feature, counted from 1. */
  readonly line: number;
  readonly reason: string;
  readonly value?: string;
  readonly isUsed: boolean;
};

/** The longest piece of somebody's file that a report repeats. */
const MAX_SHOWN = 80;

/** Makes a note; a long value is cut. */
export function makeNote(line: number, reason: string, value?: string, isUsed = false): RowNote {
  const shown = value !== undefined && value.length > MAX_SHOWN ? `${value.slice(0, MAX_SHOWN)}…` : value;
  return { line, reason, ...(shown === undefined || shown === '' ? {} : { value: shown }), isUsed };
}

/** The notes of a file as findings: `unusable` rows, and rows of which one value is `ignored`. */
export function toNoteFindings(
  notes: readonly RowNote[],
  codes: { readonly unusable: FindingCode; readonly ignored: FindingCode },
): readonly Finding[] {
  return notes.map(({ line, reason, value, isUsed }) =>
    rowFinding(isUsed ? codes.ignored : codes.unusable, line, {
      reason,
      ...(value === undefined ? {} : { value }),
    }),
  );
}

/** A finding about one row; `part` tells apart those that a row may have several of. */
export function rowFinding(
  code: FindingCode,
  line: number,
  params: Finding['params'],
  at?: Finding['at'],
  part?: string,
): Finding {
  return finding(code, { kind: 'row', id: String(line) }, params, at, part);
}
