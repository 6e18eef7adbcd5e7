import { describe, expect, it } from 'vitest';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { findNeighbours } from '../../shared/placement/find-neighbours.ts';
import { listPlaces } from '../../shared/placement/list-places.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import { fork, merge } from '../session/tunnel.fixture.ts';
import { listBeaconRows } from './list-beacon-rows.ts';

const lay = (network: typeof fork) =>
  designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id)).value.beacons;
const beacons = lay(fork);

describe('the beacons along a link', () => {
  it('meet the one at the fork on every branch, owned by one', () => {
    const atFork = fork.links.map((link) => {
      const places = listPlaces(link, fork.links, beacons);
      return places.find((place) => place.beacon.id === 'n2');
    });
    expect(atFork.map((place) => place?.chainageM)).toEqual([expect.closeTo(200, 2), 0, 0]);
    expect(atFork.filter((place) => place?.isOwn)).toHaveLength(1);
  });

  it('meet the one at a merge at the end of every way in', () => {
    const atMerge = merge.links.map((link) => {
      const place = listPlaces(link, merge.links, lay(merge)).find((one) => one.beacon.id === 'n2');
      return [link.toNode === 2, (place?.chainageM ?? Number.NaN) / link.lengthM];
    });
    expect(atMerge).toEqual([
      [true, expect.closeTo(1, 6)],
      [true, expect.closeTo(1, 6)],
      [false, 0],
    ]);
  });

  it('are neighbours across a shared end', () => {
    const [main] = fork.links;
    const branch = fork.links.find((link) => link.fromNode === main?.toNode);
    if (branch === undefined) throw new Error('no branch');
    // The fork's own beacon stands at 0 on the branch, whatever link it belongs to.
    const first = findNeighbours(fork.links, beacons, { linkId: branch.id, chainageM: 15 }, 'none');
    expect(first.beforeM).toBeCloseTo(15, 6);
    const portal = findNeighbours(fork.links, beacons, { linkId: branch.id, chainageM: 0 }, 'n2');
    expect(portal.beforeM).toBeUndefined();
  });

  it('run in the order of chainage and leave no gap above the spacing', () => {
    for (const link of fork.links) {
      const places = listPlaces(link, fork.links, beacons).map((place) => place.chainageM);
      expect(places).toEqual([...places].sort((a, b) => a - b));
      expect([places[0], places.at(-1)]).toEqual([0, expect.closeTo(link.lengthM, 6)]);
      const gaps = places.slice(1).map((m, i) => m - (places[i] as number));
      expect(Math.max(...gaps)).toBeLessThanOrEqual(40);
    }
  });

  it('stand once in the list, with the distance to the next along their link', () => {
    const rows = listBeaconRows(fork.links, beacons).filter((row) => row.kind === 'beacon');
    expect(rows.map((row) => row.beacon.id).sort()).toEqual(beacons.map((beacon) => beacon.id).sort());
    const withoutNext = rows.filter((row) => row.gapM === undefined).map((row) => row.beacon.role);
    // The fork's own link ends there, the branches end at their portals.
    expect(withoutNext.sort()).toEqual(['decision', 'portal', 'portal']);
  });
});
