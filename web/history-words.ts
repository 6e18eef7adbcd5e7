import type { SurveyChangeView } from '../shared/wire/history.ts';

const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;

/** The words of the history panel. */
export const historyWords = {
  title: 'History',
  action: 'History',
  actionNote: (name: string) => `Who did what when in “${name}”, and going back`,
  intro:
    'Everything that was done to this survey and its designs, the newest first. Going back is a step like any other: nothing is lost.',
  failed: 'The history could not be read:',
  more: 'Earlier',
  now: 'as it is now',
  compare: 'Compare with now',
  compareNamed: (revision: number) => `Compare revision ${revision} with now`,
  comparing: 'Comparing …',
  since: (revision: number) => `Since revision ${revision}`,
  back: 'History',
  same: 'No tunnel, link or beacon is another one since then.',
  compareFailed: 'Not compared:',
  goBack: 'Go back to here',
  goBackNamed: (revision: number) => `Go back to revision ${revision}`,
  ask: (revision: number) =>
    `Make the survey and all of its designs again what they were at revision ${revision}? What was done since stays in this history.`,
  yes: 'Go back',
  no: 'Leave it as it is',
  working: 'Going back …',
  done: (revision: number) => `The survey is again as it was at revision ${revision}.`,
  notDone: 'Not gone back:',
  revision: (n: number) => `Revision ${n} ·`,
  by: (who: string) => `by ${who}`,
  moreEdits: (n: number) => `and ${count(n, 'more edit', 'more edits')}`,
  changes: {
    imported: 'Imported',
    renamed: (name: string) => `Named “${name}”`,
    rules: (rules: string) => `Rules for all tunnels: ${rules}`,
    evidence: {
      true: 'Traffic counts or existing beacons brought',
      false: 'Traffic counts and existing beacons removed',
    },
    candidate: { true: 'Newer map data read beside the survey', false: 'Newer map data discarded' },
    join: 'Bores joined to one tunnel',
    split: 'A tunnel split',
    adoptExtract: 'Newer map data adopted',
    revert: 'A join or a split taken back',
    goBack: (revision: number) => `Gone back to revision ${revision}`,
  },
} as const;

/** One change of the survey itself in words; `describeRule` tells a rule and its value. */
export function describeChange(
  change: SurveyChangeView,
  describeRule: (rule: string, value: number | string) => string,
): string {
  const say = historyWords.changes;
  switch (change.kind) {
    case 'imported':
      return say.imported;
    case 'renamed':
      return say.renamed(change.name);
    case 'rules':
      return say.rules(change.rules.map(({ rule, value }) => describeRule(rule, value)).join(', '));
    case 'evidence':
      return say.evidence[`${change.isThere}`];
    case 'candidate':
      return say.candidate[`${change.isThere}`];
    case 'goBack':
      return say.goBack(change.toRevision);
    default:
      return say[change.kind];
  }
}
