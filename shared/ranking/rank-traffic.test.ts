import { describe, expect, it } from 'vitest';
import { drawTunnel } from '../../tests/places/draw-tunnel.ts';
import { drawNetwork } from '../assurance/network.fixture.ts';
import { countEntering, listApproaches } from './rank-traffic.ts';

describe('listApproaches and countEntering', () => {
  it('take all of a one-way bore, and half of a two-way one for each direction', () => {
    const source = { way: 'way', class: 'class' } as const;
    for (const isTwoWay of [false, true]) {
      const network = drawTunnel(1000, [], isTwoWay);
      const byLink = Object.fromEntries(
        network.links.map(({ id }) => [id, { vehiclesPerDay: 8000, source: source.way }]),
      );
      const approaches = listApproaches(network.links, { byLink });
      const perDirection = isTwoWay ? 4000 : 8000;
      expect([...approaches.values()][0]).toEqual({ vehiclesPerDay: perDirection, isAssumed: false });
      expect(countEntering(network, approaches)).toEqual({ vehiclesPerDay: 8000, isAssumed: false });
    }
  });

  it('count who comes through a short opening once', () => {
    const nodes = { 1: [0, 0], 2: [600, 0], 3: [640, 0], 4: [1200, 0] } as const;
    const ways = [[1, 2], { nodes: [2, 3], tags: { tunnel: 'no' } }, [3, 4]] as const;
    const network = drawNetwork(nodes, ways as never, { oneway: 'yes', maxspeed: '60' });
    expect(network.complex.openings).toHaveLength(1);
    expect(network.links).toHaveLength(2);
    const byLink = Object.fromEntries(
      network.links.map(({ id }) => [id, { vehiclesPerDay: 7600, source: 'way' as const }]),
    );
    expect(countEntering(network, listApproaches(network.links, { byLink }))).toEqual({
      vehiclesPerDay: 7600,
      isAssumed: false,
    });
  });

  it('count what enters, not what leaves by a ramp, and say whether it is assumed', () => {
    const network = drawTunnel(1000, [{ at: 0.5, lengthM: 200, joins: false }], false);
    const byLink = Object.fromEntries(
      network.links.map(({ id }) => [id, { vehiclesPerDay: 5000, source: 'class' as const }]),
    );
    expect(network.links.length).toBeGreaterThan(2);
    const approaches = listApproaches(network.links, { byLink });
    expect(countEntering(network, approaches)).toEqual({ vehiclesPerDay: 5000, isAssumed: true });
    expect(() => listApproaches(network.links, { byLink: {} })).toThrow('no traffic');
  });
});
