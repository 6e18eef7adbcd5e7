import { stand } from '../assurance/lay-plain.fixture.ts';
import { drawNetwork, hear, type Nodes } from '../assurance/network.fixture.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import type { Driveable } from './build-drive.ts';

/** Everybody at the limit, every fix exact and at once, every beacon heard. */
export const CALM: Rules = {
  ...DEFAULT_RULES,
  speedMeanShare: 1,
  speedSpreadShare: 0,
  congestionShare: 0,
  portalFixErrorM: 0,
  beaconFixErrorM: 0,
  latencyS: 0,
  failureShare: 0,
  receiverProfile: 'continuous',
  beaconProfile: 'frequent',
};

export const LIMIT_KMH = 72;
/** A one-way bore of 2,000 m at 72 km/h (20 m/s) in which a ramp leaves at 1,500 m; the ramp is 500 m long. */
export function drawFork(): ComplexNetwork {
  const nodes: Nodes = { 1: [0, 0], 2: [1500, 0], 3: [2000, 0], 4: [1980, -140] };
  return drawNetwork(
    nodes,
    [
      [1, 2, 3],
      [2, 4],
    ],
    { maxspeed: `${LIMIT_KMH}` },
  );
}

/** The link of a network that a way gave, from a node on. */
export function linkFrom({ links }: ComplexNetwork, wayId: number, fromNode: number) {
  const link = links.find((one) => one.fromNode === fromNode && one.stretches.some((s) => s.wayId === wayId));
  if (link === undefined) throw new Error(`way ${wayId} gave no link from ${fromNode}`);
  return link;
}

/** A design of beacons at chainages of links: wayId and the node that the link begins at, then metres. */
export function design(
  network: ComplexNetwork,
  places: readonly (readonly [wayId: number, fromNode: number, ...metres: number[]])[],
  own: Partial<Rules> = {},
): Driveable {
  const rules = { ...CALM, ...own };
  const beacons = places.flatMap(([wayId, fromNode, ...metres]): Beacon[] => {
    const { id } = linkFrom(network, wayId, fromNode);
    return metres.map((chainageM) => stand(`${wayId}.${fromNode}.${chainageM}`, id, chainageM));
  });
  return { rules, beacons, coverage: hear(network, beacons, rules.coverageRadiusM) };
}
