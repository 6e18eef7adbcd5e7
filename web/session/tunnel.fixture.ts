import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { ComplexNetwork, LinkId } from '../../shared/network/network.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import type { BeaconId } from '../../shared/placement/beacon.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { applyCommand } from '../../shared/scheme/apply-command.ts';
import { type Command, makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';

/** A straight tunnel of 400 m: 11 beacons at 40 m. */
export const network = build({ 1: [0, 0], 2: [400, 0] }, [[1, 2]]);
export const linkId = network.links[0]?.id as LinkId;
export const context = makeCommandContext(network, DEFAULT_RULES);
export const empty = makeScheme(network.complex.id);

/** A tunnel that forks after 200 m. */
export const fork = build({ 1: [0, 0], 2: [200, 0], 3: [400, 20], 4: [400, -80] }, [
  [1, 2],
  [2, 3],
  [2, 4],
]);

/** Two tunnels that join after 200 m. */
export const merge = build({ 1: [0, 0], 2: [200, 0], 3: [400, 20], 4: [0, 80] }, [
  [1, 2],
  [4, 2],
  [2, 3],
]);

export const spacing = (commandId: string, value: number | null): Command => ({
  kind: 'setRule',
  commandId,
  rule: 'spacingM',
  value,
});
export const radius = (commandId: string, value: number): Command => ({
  kind: 'setRule',
  commandId,
  rule: 'coverageRadiusM',
  value,
});
export const slide = (commandId: string, chainageM: number, number = 3): Command => ({
  kind: 'slideBeacon',
  commandId,
  beaconId: `${linkId}.${number}` as BeaconId,
  to: { linkId, chainageM },
  anchor: 'chainage',
});
export const revert = (commandId: string, revertedId: string): Command => ({
  kind: 'revert',
  commandId,
  revertedId,
});

/** A scheme with these edits; fails the test where one is refused. */
export function apply(scheme: Scheme, ...commands: readonly Command[]): Scheme {
  return commands.reduce((before, command) => {
    const applied = applyCommand(before, command, context);
    if (!applied.ok) throw new Error(`${command.commandId}: ${applied.refusal.code}`);
    return applied.value;
  }, scheme);
}

function build(
  nodes: Readonly<Record<number, readonly [number, number]>>,
  ways: readonly (readonly number[])[],
): ComplexNetwork {
  const tags = { highway: 'primary', tunnel: 'yes', maxspeed: '50', oneway: 'yes', name: 'Test Tunnel' };
  const extract = drawPlace({
    nodes,
    ways: ways.map((way, i) => ({ id: 11 + i, nodes: [...way], tags })),
  });
  const [first] = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
  if (first === undefined) throw new Error('the drawing has no tunnel');
  return first;
}
