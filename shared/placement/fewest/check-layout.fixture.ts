import type { Link, LinkId, RouteStep } from '../../network/network.ts';
import { makeCoverage } from '../../radio/cover-bores.ts';
import type { Beacon } from '../beacon.ts';
import { isKeptOut } from '../keep-out.ts';
import type { LayoutInput } from '../lay-even.ts';
import { listPlaces } from '../list-places.ts';

/**
 * What a layout breaks, one line each: found by driving every listed route from end to end and by listening at every
 * metre, and not from the rows of the question.
 */
export function listFaults(input: LayoutInput, beacons: readonly Beacon[]): readonly string[] {
  return [
    ...input.network.complex.routes.flatMap((route) => listLongGaps(input, beacons, route.steps)),
    ...listQuietPlaces(input, beacons),
    ...listMisplaced(input, beacons),
  ];
}

function linkOf({ network }: LayoutInput, id: LinkId): Link {
  return network.links.find((link) => link.id === id) as Link;
}

/** Routes begin and end in the open air; openings between bores count as the open air too. */
function listLongGaps(input: LayoutInput, beacons: readonly Beacon[], steps: readonly RouteStep[]): string[] {
  const faults: string[] = [];
  let drivenM = 0;
  let fixM = 0;
  for (const { linkId, against, opening } of steps) {
    const link = linkOf(input, linkId);
    if (opening !== undefined) fixM = drivenM;
    const places = listPlaces(link, input.network.links, beacons).map(({ chainageM }) =>
      against ? link.lengthM - chainageM : chainageM,
    );
    for (const alongM of places.sort((a, b) => a - b)) {
      if (drivenM + alongM - fixM > input.rules.spacingM + 1e-5) {
        faults.push(`gap of ${(drivenM + alongM - fixM).toFixed(2)} m on ${linkId}`);
      }
      fixM = drivenM + alongM;
    }
    drivenM += link.lengthM;
  }
  if (drivenM - fixM > input.rules.spacingM + 1e-5) {
    faults.push(`gap of ${(drivenM - fixM).toFixed(2)} m before the exit`);
  }
  return faults;
}

function listQuietPlaces(input: LayoutInput, beacons: readonly Beacon[]): string[] {
  const { network, rules } = input;
  const cover = makeCoverage(network.links);
  const heard = beacons.flatMap(({ at, radiusM }) =>
    cover(at, radiusM ?? input.radiusM(linkOf(input, at.linkId), at.chainageM)),
  );
  return network.links
    .filter((link) => !link.restricted)
    .flatMap(({ id, lengthM }) => {
      const own = heard.filter(({ linkId }) => linkId === id);
      const places = Array.from(
        { length: Math.ceil(lengthM) },
        (_, i) => (i + 0.5) * (lengthM / Math.ceil(lengthM)),
      );
      return places.flatMap((m) => {
        const count = own.filter(({ fromM, toM }) => m >= fromM - 1e-5 && m <= toM + 1e-5).length;
        return count < rules.coverageDepth ? [`${count} heard at ${m.toFixed(1)} m on ${id}`] : [];
      });
    });
}

function listMisplaced(input: LayoutInput, beacons: readonly Beacon[]): string[] {
  const ids = new Set(beacons.map(({ id }) => id));
  return [
    ...(ids.size === beacons.length ? [] : ['an id stands twice']),
    ...input.pins.flatMap(({ id, at }) => {
      const own = beacons.find((beacon) => beacon.id === id);
      const stays = own?.locked && own.at.linkId === at.linkId && own.at.chainageM === at.chainageM;
      return stays ? [] : [`pin ${id} is not where it was put`];
    }),
    ...beacons
      .filter((one) => !one.locked)
      .filter((one) => isKeptOut(input.keepOuts, linkOf(input, one.at.linkId), one.at.chainageM, one.side))
      .map(({ id }) => `beacon ${id} stands in a keep-out`),
  ];
}
