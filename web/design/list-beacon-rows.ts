import type { Link } from '../../shared/network/network.ts';
import type { Beacon } from '../../shared/placement/beacon.ts';
import { listPlaces } from '../../shared/placement/list-places.ts';

/** A line of the beacon list: a link's heading, or a beacon with the distance to the next one along its link. */
export type BeaconRow =
  | { readonly kind: 'link'; readonly link: Link; readonly index: number }
  | { readonly kind: 'beacon'; readonly beacon: Beacon; readonly gapM: number | undefined };

/** The beacons by link and chainage, each link with a heading; a beacon stands once, under the link it belongs to. */
export function listBeaconRows(links: readonly Link[], beacons: readonly Beacon[]): readonly BeaconRow[] {
  return links.flatMap((link, i): BeaconRow[] => {
    const places = listPlaces(link, links, beacons);
    const rows = places.flatMap(({ beacon, chainageM, isOwn }, k): BeaconRow[] => {
      if (!isOwn) return [];
      const next = places[k + 1];
      return [{ kind: 'beacon', beacon, gapM: next === undefined ? undefined : next.chainageM - chainageM }];
    });
    return rows.length === 0 ? [] : [{ kind: 'link', link, index: i + 1 }, ...rows];
  });
}

/** What a link is called: its road, else its class. */
export function nameOfLink(link: Link): string {
  const first = link.stretches[0];
  const name = first?.name ?? first?.tunnelName ?? link.roadClass.replaceAll('_', ' ');
  return first?.ref === undefined || first.ref === name ? name : `${name} (${first.ref})`;
}
