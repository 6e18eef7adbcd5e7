/** What is said about the simulated drives. */
export const driveWords = {
  title: 'Drive',
  intro: 'How far the shown position runs ahead of the car (above zero) or lags behind it (below).',
  computing: 'Computing the drives…',
  recomputing: 'An older design is shown: computing the drives…',
  failed: (reason: string) => `The drives could not be computed: ${reason}`,
  none: 'No way through this tunnel can be driven.',
  bare: 'This design has no beacons: only the error without beacons is shown.',
  bareShort: (outageS: string, minimumS: string) =>
    `No beacons are laid here: ${outageS} s without satellites is less than the ${minimumS} s from which the rules lay them. Only the error without beacons is shown.`,
  drives: (drives: string, seed: number) => `${drives} drives a route, seed ${seed}.`,
  leftOut: (count: number) =>
    `${count} more ${count === 1 ? 'route is' : 'routes are'} left out: all that matters on them is met on the others.`,
  rules: 'Speeds, fixes and tolerances are among the rules above.',
  route: 'Route',
  routeOption: (name: string, lengthM: string, decisions: number) =>
    `${name}: ${lengthM} m${decisions === 0 ? '' : `, ${countDecisions(decisions)}`}`,
  again: (name: string, time: number) => `${name} (${time})`,
  heading: (name: string, compass: string) => `${name}, to the ${compass}`,
  compass: ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'],
  xAxis: 'Distance from the entry portal',
  yAxis: 'Position error, m',
  enlarged: 'With this design alone, enlarged, m',
  legend: {
    without: 'without beacons: median, 5–95 %',
    with: 'with this design: median, 5–95 %',
    portal: 'portal',
    beacon: 'beacon',
    dead: 'dead beacon',
    decision: 'decision point',
    openAir: 'open air past the exit',
  },
  summary: (lengthM: string, withoutM: string, withM: string, decisions: number, beacons: number) =>
    `Position error along ${lengthM} m. At the exit portal 90 % of the drives lie between ${withoutM} without beacons${beacons === 0 ? '' : ` and between ${withM} with them`}. ${countDecisions(decisions)} and ${beacons} ${beacons === 1 ? 'beacon' : 'beacons'} marked.`,
  between: (p5: string, p95: string) => `${p5} and ${p95} m`,
  place: 'Place on the route',
  readout: {
    at: (chainage: string) => `At ${chainage}`,
    without: 'without beacons',
    with: 'with design',
    value: (p50: string, p5: string, p95: string) => `${p50} m (5–95 %: ${p5} to ${p95} m)`,
  },
  dead: {
    title: (count: number) =>
      count === 0 ? 'What if beacons are dead?' : `What if beacons are dead? ${count} chosen`,
    note: (percent: string) =>
      `Ticked beacons of this route are dead in every drive; each of the others in ${percent} % of the drives, as the rules say. Nothing of this is saved.`,
    mendAll: 'None dead',
  },
  table: {
    caption: 'Decision points on this route',
    captionNote: (isDesigned: boolean) =>
      `Late and early: drives that fail there${isDesigned ? ', without beacons → with this design' : ''}.`,
    none: 'No decision point is met on this route.',
    columns: {
      sight: 'Sight, m',
      announced: 'Told before, m',
      lag: 'May lag, m',
      lead: 'May lead, m',
      late: 'Late, %',
      early: 'Early, %',
    },
    place: (chainage: string, signs: string, speedKmh: string, isAhead: boolean) =>
      `${chainage}${isAhead ? ' after the portal' : ''}${signs === '' ? '' : `: ${signs}`}, ${speedKmh} km/h`,
    working: 'Working',
    change: (without: string, withDesign: string) => `${without} → ${withDesign}`,
  },
  announced: (announceM: string, announceS: string) =>
    `The instruction is given ${announceM} m before, ${announceS} s at the speed limit.`,
  due: (chainage: string) => `It is due at ${chainage}.`,
  dueOutside: 'It is due before the entry portal, where satellites still help.',
  late: (announceM: string, sightM: string, toleranceM: string, lateM: string) =>
    `Late, where the estimate lags by more than ${announceM} − ${sightM} (sight) + ${toleranceM} (tolerance) = ${lateM} m, never below 0.`,
  early: (earlyM: string) => `Early, where it leads by more than ${earlyM} m (tolerance).`,
  earlyBefore: (earlyM: string, toleranceM: string) =>
    `Early, where it leads by more than ${earlyM} m, the way back to the decision point before (tolerance ${toleranceM} m).`,
  errorThere: (without: string, withDesign: string) =>
    `Error where it is due, 5 / 50 / 95 %: ${without} m without beacons, ${withDesign} m with the design.`,
  branches: 'Shown on the wrong branch after a fork',
  branchColumns: {
    name: 'Branch taken',
    without: 'Without, m',
    with: 'With, m',
    most: 'With, 95 %, m',
    wrong: 'Misheard, %',
  },
  branchNote:
    'Metres past the fork until a driver who leaves the route is shown on the branch that was taken; misheard: drives in which the first beacon heard puts the car on the other branch.',
  branch: (index: number, name: string, sign: string | undefined) =>
    `Link ${index}: ${name}${sign === undefined ? '' : `, signed ${sign}`}`,
};

function countDecisions(count: number): string {
  return `${count} ${count === 1 ? 'decision' : 'decisions'}`;
}
