import type { TunnelNetwork } from '../network/network.ts';
import type { Rules } from '../placement/rules.ts';
import { type CarriedSchemes, carrySchemes } from '../scheme/carry-schemes.ts';
import type { Scheme } from '../scheme/scheme.ts';
import type { Comparison } from '../wire/comparison.ts';
import { compareBeacons } from './compare-beacons.ts';
import { compareComplexes } from './compare-complexes.ts';
import { compareLinks } from './compare-links.ts';
import { noteKeepOuts } from './note-keep-outs.ts';
import type { Rebuilt } from './rebuild-survey.ts';

/** A survey as it stands: what a newer extract is compared with. */
export type StandingSurvey = {
  readonly network: TunnelNetwork;
  readonly rules: Rules;
  readonly schemes: readonly Scheme[];
};

/** What the network says; who asked, and from what, is added by whoever knows. */
export type NetworkComparison = Omit<Comparison, 'extractId' | 'surveyRevision' | 'before' | 'after'>;

/** Lists everything that would be another one if the rebuilt network were adopted. Nothing is changed. */
export function compareSurveys(standing: StandingSurvey, rebuilt: Rebuilt): NetworkComparison {
  const { network: before, schemes, rules } = standing;
  const { network: after, pieces } = rebuilt;
  const carried = carrySchemes(before, after, pieces, schemes, 'compare');
  const complexes = compareComplexes(before, after, carried);
  const links = compareLinks(before, after, pieces);
  const { beacons, greatestBeaconShiftM, unchanged } = compareBeacons(
    { network: before, schemes },
    { network: after, schemes: carried.schemes },
    rules,
    carried.pins,
  );
  const isOld = <T extends { change: string }>(one: T) => one.change !== 'appeared';
  return {
    complexes: [...complexes],
    links: [...links],
    beacons,
    unchanged: {
      complexes: before.complexes.length - complexes.filter(isOld).length,
      links: before.links.length - links.filter(isOld).length,
      beacons: unchanged,
    },
    greatestBeaconShiftM,
    notes: listNotes(carried, before, rebuilt),
  };
}

/** What people have to know of a rebuilt network and of what was carried to it. */
export function listNotes(
  carried: CarriedSchemes,
  before: TunnelNetwork,
  rebuilt: Rebuilt,
): Comparison['notes'] {
  const complexes = [...rebuilt.network.complexes, ...before.complexes];
  const nameOf = (id: string) => complexes.find((complex) => complex.id === id)?.name ?? id;
  return [
    ...carried.rulesDiffer.map(({ complexId, otherId }) => ({
      code: 'rules-differ' as const,
      complexId,
      detail: `The tunnel ${otherId} had rules of its own; those of ${nameOf(complexId)} will hold for both.`,
    })),
    ...noteKeepOuts(carried.keepOuts, nameOf),
    ...rebuilt.findings
      .filter((finding) => finding.code === 'override-unmatched')
      .map(({ subject }) => ({
        code: 'override-unmatched' as const,
        detail: `Way ${subject.id} is no tunnel any more: what was said about it by hand has no effect.`,
      })),
  ];
}
