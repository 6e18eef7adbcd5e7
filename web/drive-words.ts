import type { DecisionDrive } from '../shared/drive/drive.ts';

/** What is said about the simulated drives. */
export const driveWords = {
  title: 'Drive',
  intro: 'How far the shown position runs ahead of the car (above zero) or lags behind it (below).',
  computing: 'computing…',
  recomputing: 'An older design is shown: computing…',
  failed: (reason: string) => `The drives could not be computed: ${reason}`,
  none: 'No way through this tunnel can be driven.',
  drives: (drives: string, seed: number) => `${drives} drives a route, seed ${seed}.`,
  leftOut: (count: number) =>
    `${count} more ${count === 1 ? 'route is' : 'routes are'} left out: all that matters on them is met on the others.`,
  route: 'Route',
  routeOption: (name: string, lengthM: string, decisions: number) =>
    `${name}: ${lengthM} m${decisions === 0 ? '' : `, ${decisions} ${decisions === 1 ? 'decision' : 'decisions'}`}`,
  enlarge: 'Enlarge the error with beacons',
  xAxis: 'Distance from the entry portal',
  yAxis: 'Position error, m',
  exit: 'exit portal',
  legend: {
    without: 'without beacons: median, 5–95 %',
    with: 'with this design: median, 5–95 %',
    decision: 'decision point',
  },
  summary: (lengthM: string, withoutM: string, withM: string, decisions: number) =>
    `Position error along ${lengthM} m. At the exit portal 90 % of the drives lie between ${withoutM} without beacons and between ${withM} with them. ${decisions} ${decisions === 1 ? 'decision point' : 'decision points'} marked.`,
  between: (p5: string, p95: string) => `${p5} and ${p95} m`,
  place: 'Place on the route',
  readout: {
    at: (chainage: string) => `At ${chainage}`,
    without: 'without beacons',
    with: 'with design',
    value: (p50: string, p5: string, p95: string) => `${p50} m (5–95 %: ${p5} to ${p95} m)`,
  },
  table: {
    caption: 'Decision points on this route',
    none: 'No decision point is met on this route.',
    columns: {
      at: 'At',
      speed: 'km/h',
      announced: 'Told m before',
      sight: 'Sight m',
      late: 'Late %, without → with',
      early: 'Early %, without → with',
    },
    where: { underground: '', 'after portal': 'after portal' } satisfies Record<
      DecisionDrive['where'],
      string
    >,
    change: (without: string, withDesign: string) => `${without} → ${withDesign}`,
  },
  due: (chainage: string) => `Due at ${chainage}.`,
  dueOutside: 'Due before the entry portal, where satellites still help.',
  working: (announceM: string, sightM: string, toleranceM: string, lateM: string, earlyM: string) =>
    `May lag ${announceM} − ${sightM} + ${toleranceM} = ${lateM} m (told before, less sight, plus tolerance; 0 at least), may lead ${earlyM} m.`,
  errorThere: (without: string, withDesign: string) =>
    `Error there, 5 / 50 / 95 %: ${without} m → ${withDesign} m.`,
  branches: 'After a fork',
  branchNote:
    'A driver who takes a branch that the route does not take is shown on the other one this far past the fork.',
  branch: (name: string, sign: string | undefined, found: string) =>
    `${name}${sign === undefined ? '' : ` (${sign})`}: ${found}.`,
  confused: (without: string, withM: string, p95M: string) =>
    `${without} m → ${withM} m (at most ${p95M} m in 95 %)`,
  wrong: (percent: string) => `the first beacon heard puts ${percent} % on the other branch`,
};
