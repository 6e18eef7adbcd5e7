import type { Link } from '../../shared/network/network.ts';
import type { Beacon } from '../../shared/placement/beacon.ts';

/** A line of the beacon list: a link's heading, or a beacon with the distance to the next one of its link. */
export type BeaconRow =
  | { readonly kind: 'link'; readonly link: Link; readonly index: number }
  | { readonly kind: 'beacon'; readonly beacon: Beacon; readonly gapM: number | undefined };

/** The beacons by link and chainage, each link with a heading; links without beacons are left out. */
export function listBeaconRows(links: readonly Link[], beacons: readonly Beacon[]): readonly BeaconRow[] {
  return links.flatMap((link, i): BeaconRow[] => {
    const own = beacons.filter((beacon) => beacon.at.linkId === link.id);
    if (own.length === 0) return [];
    const sorted = own.sort((a, b) => a.at.chainageM - b.at.chainageM);
    const rows = sorted.map((beacon, k): BeaconRow => {
      const next = sorted[k + 1];
      const gapM = next === undefined ? undefined : next.at.chainageM - beacon.at.chainageM;
      return { kind: 'beacon', beacon, gapM };
    });
    return [{ kind: 'link', link, index: i + 1 }, ...rows];
  });
}

/** What a link is called: its road, else its class. */
export function nameOfLink(link: Link): string {
  const first = link.stretches[0];
  const name = first?.name ?? first?.tunnelName ?? link.roadClass.replaceAll('_', ' ');
  return first?.ref === undefined || first.ref === name ? name : `${name} (${first.ref})`;
}
