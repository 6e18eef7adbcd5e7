import type { Check, CheckRule, Mend } from '../shared/placement/design.ts';

type Status = Check['status'];

/** What is said about the checks of a design. */
export const checkWords = {
  checks: {
    title: 'Checks',
    none: 'Nothing is designed, so there is nothing to check.',
    unmet: (count: number) => (count === 0 ? 'all met' : `${count} not met`),
    statuses: {
      met: 'met',
      'not met': 'not met',
      note: 'note',
      'not applicable': 'does not apply',
    } satisfies Record<Status, string>,
    rules: {
      gap: 'Greatest gap',
      coverage: 'Beacons heard everywhere',
      'single-failure': 'Gap if one beacon fails',
      'pair-failure': 'Gap if two neighbours fail',
      'portal-beacon': 'Beacon at each portal',
      'decision-sight': 'Beacons before each decision point',
      'branch-confirmation': 'First beacon after a split',
      'branch-ambiguity': 'Heard on the wrong branch',
      'keep-out': 'Beacons clear of the keep-outs',
      'sister-pairs': 'Heard together from two branches',
      'power-limit': 'Radiated power (EIRP)',
      'line-accuracy': 'Accuracy of the drawn line',
    } satisfies Record<CheckRule, string>,
    meanings: {
      gap: 'Driven distance from one beacon to the next, across junctions too; at most the spacing.',
      coverage:
        'How many beacons are heard at the place with the fewest, along every bore; at least the coverage depth.',
      'single-failure':
        'The longest gap that any single failed beacon leaves; at most redundancy times the spacing.',
      'pair-failure': 'The longest gap that two failed neighbours leave. For information.',
      'portal-beacon': 'From the portal to the first beacon; at most the portal offset and 5 m.',
      'decision-sight':
        'Beacons inside the decision sight distance before each decision point (0.278 · V · decision time, AASHTO). An entry portal inside it counts as one. Before a decision point in the open air that comes soon after a portal, those in the part of the distance that lies in the bore, where there is room for them at the closest spacing.',
      'branch-confirmation':
        'From the split to the first beacon of each branch; at most the distance for the branch confirmation.',
      'branch-ambiguity':
        'Along how much of a sister branch a branch’s first beacon is heard before the sister’s own; up to 5 m after the split does not matter.',
      'keep-out': 'How far inside a keep-out on its own wall a beacon stands.',
      'sister-pairs':
        'The longest stretch along which a beacon of each of two branches of one fork or merge are both heard, through the air that the branches share: there a receiver cannot tell the branch from hearing alone. For information.',
      'power-limit':
        'Transmit power and antenna gain of the chosen beacons against the limit of the chosen region. An aid to planning, not legal advice.',
      'line-accuracy':
        'How far a curve may run from the line that the map draws with few points; half a lane is worth a look on site.',
    } satisfies Record<CheckRule, string>,
    mends: {
      'release-beacon': 'Set the moved beacon beside the gap back to automatic, or move it.',
      'reduce-spacing': 'Reduce the spacing.',
      'reach-farther':
        'The radius is too small for this spacing: reduce the spacing, or take beacons that are heard farther.',
      'raise-redundancy': 'Raise the redundancy to 2: with 1 no failure at all is allowed for.',
      'beacon-at-portal': 'Move the beacon back to the portal, or set it back to automatic.',
      'beacon-before-fork': 'Move a beacon to before the decision point, or reduce the spacing.',
      'beacon-after-fork': 'Move the branch’s first beacon nearer to the split, or reduce the spacing.',
      'beacon-farther-from-fork':
        'Move the branch’s first beacon farther from the split, or reduce the coverage radius.',
      'leave-keep-out': 'Set the beacon back to automatic, move it out of the keep-out, or change its wall.',
      'shorten-keep-out': 'Nothing may be mounted there: shorten the keep-out, or free one wall.',
      'weaker-beacons': 'Choose beacons that send with less power.',
      'survey-on-site': 'Measure chainages on site there; the drawn line may be shorter than the road.',
    } satisfies Record<Mend, string>,
    atMost: (text: string) => `at most ${text}`,
    atLeast: (text: string) => `at least ${text}`,
    value: (text: string, unit: Check['unit']) => (unit === 'beacons' ? text : `${text} ${unit}`),
    show: (rule: string, place: string) => `${rule}: show ${place} on the map`,
    survival: (share: string) => `${share} % chance that every gap stays within the limit`,
    survivalOf: (limitM: string, failed: string, method: string) =>
      `Limit ${limitM} m (redundancy × spacing); each beacon failed with ${failed} % chance, independently; satellites count at the portals; ${method}.`,
    methods: {
      exact: () => 'exact',
      simulated: (trials: string) => `simulated, ${trials} seeded trials, because bores form rings`,
    },
  },
};
