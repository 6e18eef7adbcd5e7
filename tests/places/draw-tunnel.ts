import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { drawPlace } from './draw-place.ts';

const BORE = { highway: 'trunk', tunnel: 'yes', lanes: '2', maxspeed: '80' };

/** A ramp that leaves the main bore, or joins it, at a share of its length. */
export type Ramp = { readonly at: number; readonly lengthM: number; readonly joins?: boolean };

/** A straight one-way bore (two-way where asked) with ramps to one side. */
export function drawTunnel(lengthM: number, ramps: readonly Ramp[] = [], isTwoWay = false): ComplexNetwork {
  const sorted = [...ramps].sort((a, b) => a.at - b.at);
  const tags = { ...BORE, oneway: isTwoWay ? 'no' : 'yes' };
  const nodes: Record<number, [number, number]> = { 1: [0, 0], 2: [lengthM, 0] };
  sorted.forEach(({ at, lengthM: rampM, joins }, i) => {
    nodes[10 + i] = [at * lengthM, 0];
    nodes[30 + i] = [at * lengthM + (joins ? -1 : 1) * 0.95 * rampM, -0.3122 * rampM];
  });
  const [network] = listComplexNetworks(
    buildNetwork(
      drawPlace({
        nodes,
        ways: [
          { id: 11, nodes: [1, ...sorted.map((_, i) => 10 + i), 2], tags },
          ...sorted.map(({ joins }, i) => ({
            id: 20 + i,
            nodes: joins ? [30 + i, 10 + i] : [10 + i, 30 + i],
            tags: { ...tags, highway: 'trunk_link' },
          })),
        ],
      }),
      NETWORK_RULES,
    ).value,
  );
  if (network === undefined) throw new Error('no tunnel');
  return network;
}
