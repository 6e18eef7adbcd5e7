import type { LineAddress } from '../alignment/line-address.ts';
import type { ComplexNetwork, LinkId } from '../network/network.ts';
import type { Beacon, BeaconId, Wall } from '../placement/beacon.ts';
import type { Rules } from '../placement/rules.ts';

/** A beacon on a wall, as the checks look at it. */
export function stand(id: string, linkId: LinkId, chainageM: number, side: Wall = 'right'): Beacon {
  const at = { linkId, chainageM };
  const rest = { anchor: 'chainage', role: 'spacing', offsetM: 0, heightM: 3, locked: false } as const;
  return { id: id as BeaconId, at, side, ...rest };
}

/** The plainest layout: one beacon at each node (`n` and the node), equal intervals up to the spacing between. */
export function layPlain(
  { links }: ComplexNetwork,
  { spacingM }: Pick<Rules, 'spacingM'>,
): readonly Beacon[] {
  const atNode = new Map<number, Beacon>();
  const between = links.flatMap(({ id, fromNode, toNode, lengthM }) => {
    for (const [node, chainageM] of [[fromNode, 0] as const, [toNode, lengthM] as const]) {
      if (!atNode.has(node)) atNode.set(node, stand(`n${node}`, id, chainageM));
    }
    const intervals = Math.ceil(lengthM / spacingM - 1e-9);
    return Array.from({ length: intervals - 1 }, (_, i) =>
      stand(`${id}.${i + 1}`, id, (lengthM * (i + 1)) / intervals),
    );
  });
  return [...atNode.values(), ...between].sort(
    (a, b) => a.at.linkId.localeCompare(b.at.linkId) || a.at.chainageM - b.at.chainageM,
  );
}

/** The same beacons, one of them moved and locked by a person. */
export function moveTo(beacons: readonly Beacon[], id: string, at: LineAddress): readonly Beacon[] {
  return beacons.map((beacon) => (beacon.id === id ? { ...beacon, at, locked: true } : beacon));
}
