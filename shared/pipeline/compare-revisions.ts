import { matchLinks } from '../network/match-links.ts';
import { carrySchemes } from '../scheme/carry-schemes.ts';
import { compareDesigns } from './compare-beacons.ts';
import { compareComplexes } from './compare-complexes.ts';
import { compareLinks } from './compare-links.ts';
import type { NetworkComparison, StandingSurvey } from './compare-surveys.ts';

/** Lists what became of a survey between two of its revisions: tunnels, links, and every beacon's way in metres. */
export function compareRevisions(before: StandingSurvey, after: StandingSurvey): NetworkComparison {
  const { beacons, greatestBeaconShiftM, unchanged } = compareDesigns(before, after);
  const { complexes, links } = compareNetworks(before, after);
  const isOld = <T extends { change: string }>(one: T) => one.change !== 'appeared';
  return {
    complexes: [...complexes],
    links: [...links],
    beacons,
    unchanged: {
      complexes: before.network.complexes.length - complexes.filter(isOld).length,
      links: before.network.links.length - links.filter(isOld).length,
      beacons: unchanged,
    },
    greatestBeaconShiftM,
    notes: [],
  };
}

/** Most revisions leave the network alone; matching one that is large takes a while. */
function compareNetworks({ network: before, schemes }: StandingSurvey, { network: after }: StandingSurvey) {
  if (before === after) return { complexes: [], links: [] };
  const pieces = matchLinks(before.links, after.links);
  const carried = carrySchemes(before, after, pieces, schemes, 'compare');
  return {
    complexes: compareComplexes(before, after, carried),
    links: compareLinks(before, after, pieces),
  };
}
