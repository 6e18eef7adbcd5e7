import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { ComplexNetwork, Link } from '../network/network.ts';
import { listComplexNetworks } from '../pipeline/build-survey.ts';
import type { Beacon, BeaconId, Pin } from './beacon.ts';
import type { KeepOut } from './keep-out.ts';
import * as layout from './lay-even.ts';
import { listPlaces } from './list-places.ts';
import { makeRadius } from './make-radius.ts';
import { DEFAULT_RULES, type Rules } from './rules.ts';

const bore = { highway: 'trunk', oneway: 'yes', tunnel: 'yes', lanes: '2', maxspeed: '80' };

/** One straight bore of the given length. */
function straight(lengthM: number): ComplexNetwork {
  return first(
    drawPlace({
      nodes: { 1: [0, 0], 2: [lengthM / 2, 0], 3: [lengthM, 0] },
      ways: [{ id: 11, nodes: [1, 2, 3], tags: bore }],
    }),
  );
}

function first(extract: ReturnType<typeof drawPlace>): ComplexNetwork {
  const [network] = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
  if (network === undefined) throw new Error('no tunnel');
  return network;
}

/** A main bore with `ramps` that leave it at the given shares of its length. */
function forked(lengthM: number, ramps: readonly { at: number; lengthM: number }[]): ComplexNetwork {
  const places = ramps.map((ramp) => ramp.at * lengthM).sort((a, b) => a - b);
  const nodes: Record<number, [number, number]> = { 1: [0, 0], 2: [lengthM, 0] };
  places.forEach((atM, i) => {
    nodes[10 + i] = [atM, 0];
    nodes[30 + i] = [atM + 0.8 * (ramps[i]?.lengthM ?? 0), 0.6 * (ramps[i]?.lengthM ?? 0)];
  });
  return first(
    drawPlace({
      nodes,
      ways: [
        { id: 11, nodes: [1, ...places.map((_, i) => 10 + i), 2], tags: bore },
        ...places.map((_, i) => ({
          id: 20 + i,
          nodes: [10 + i, 30 + i],
          tags: { ...bore, highway: 'trunk_link' },
        })),
      ],
    }),
  );
}

function rules(spacingM: number): Rules {
  return { ...DEFAULT_RULES, spacingM };
}

function layEven(
  network: ComplexNetwork,
  asked: Rules,
  pins: readonly Pin[],
  keepOuts: readonly KeepOut[] = [],
): readonly Beacon[] {
  return layout.layEven({ network, rules: asked, pins, keepOuts, radiusM: makeRadius(asked) });
}

describe('layEven', () => {
  // Common practice, no source: 2,300 m at 40 m, both ends: 59; at 80 m: 30, and 59 = 2·30 − 1.
  it.each([
    [2300, 40, 59, 39.655],
    [2300, 80, 30, 79.31],
    [2320, 40, 59, 40],
  ])('%s m at %s m gives %s beacons, %s m apart', (lengthM, spacingM, count, gapM) => {
    const network = straight(lengthM);
    // Metres drawn on the ellipsoid round to 1e-7 m here; the exact multiple must not gain a beacon by that.
    const exact = { ...network, links: network.links.map((link): Link => ({ ...link, lengthM })) };
    const beacons = layEven(exact, rules(spacingM), []);
    expect(beacons).toHaveLength(count);
    expect(beacons[0]?.at.chainageM).toBe(0);
    expect(beacons.at(-1)?.at.chainageM).toBe(lengthM);
    expect((beacons[1]?.at.chainageM ?? 0) - 0).toBeCloseTo(gapM, 2);
    expect(beacons.map((b) => b.role)).toEqual(['portal', ...Array(count - 2).fill('spacing'), 'portal']);
  });

  it('stands on the wall: half the carriageway plus the shoulder', () => {
    // Two lanes of 3.5 m and a shoulder of 1 m: 4.5 m.
    expect(layEven(straight(200), rules(40), [])[0]?.offsetM).toBe(4.5);
    expect(layEven(straight(200), { ...rules(40), side: 'left' }, [])[0]?.offsetM).toBe(-4.5);
  });

  it('shares one beacon where links meet, and confirms the branch after a fork', () => {
    const network = forked(400, [{ at: 0.5, lengthM: 100 }]);
    const beacons = layEven(network, rules(40), []);
    const atFork = beacons.filter((b) => b.id === 'n10');
    expect(atFork).toMatchObject([{ role: 'decision' }]);
    // 200 m: 5 intervals; 200 m: 5; 100 m: 3; the fork's beacon serves all three.
    expect(beacons).toHaveLength(6 + 5 + 3);
    expect(beacons.filter((b) => b.role === 'branch')).toHaveLength(2);
  });

  it('leaves restricted links bare', () => {
    const network = straight(300);
    const closed = { ...network, links: network.links.map((link): Link => ({ ...link, restricted: true })) };
    expect(layEven(closed, rules(40), [])).toEqual([]);
  });

  it('lays the rest around a beacon that was moved', () => {
    const network = straight(400);
    const [link] = network.links as [Link];
    const before = layEven(network, rules(40), []);
    const moved = before[3] as Beacon;
    const pin: Pin = {
      id: moved.id,
      at: { linkId: link.id, chainageM: moved.at.chainageM + 13 },
      anchor: 'chainage',
    };
    const after = layEven(network, rules(40), [pin]);
    expect(after.find((b) => b.id === moved.id)).toMatchObject({ at: pin.at, locked: true, role: 'manual' });
    expect(new Set(after.map((b) => b.id)).size).toBe(after.length);
    expect(largestGap(network, after)).toBeLessThanOrEqual(40 + 1e-6);
  });

  it('lets a portal’s beacon move into the bore without putting another in its place', () => {
    const network = straight(400);
    const [link] = network.links as [Link];
    const near = layEven(network, rules(40), [
      { id: 'n1' as BeaconId, at: { linkId: link.id, chainageM: 12 }, anchor: 'chainage' },
    ]);
    expect(near[0]).toMatchObject({ id: 'n1', at: { chainageM: 12 } });
    const far = layEven(network, rules(40), [
      { id: 'n1' as BeaconId, at: { linkId: link.id, chainageM: 90 }, anchor: 'chainage' },
    ]);
    expect(far[0]?.at.chainageM).toBe(0);
  });

  it.each([
    [10, 'near the start'],
    [-10, 'near the end'],
  ])('goes all the way round a loop whose one beacon was moved into it (%s m, %s)', (movedM) => {
    const network = first(
      drawPlace({
        nodes: { 1: [-200, 0], 2: [0, 0], 3: [60, 60], 4: [120, 0], 5: [60, -60] },
        ways: [
          { id: 11, nodes: [1, 2], tags: { ...bore, oneway: 'no' } },
          { id: 12, nodes: [2, 3, 4, 5, 2], tags: { ...bore, oneway: 'no' } },
        ],
      }),
    );
    const loop = network.links.find((link) => link.fromNode === link.toNode) as Link;
    const chainageM = movedM > 0 ? movedM : loop.lengthM + movedM;
    const beacons = layEven(network, rules(40), [
      { id: 'n2' as BeaconId, at: { linkId: loop.id, chainageM }, anchor: 'chainage' },
    ]);
    const places = beacons.filter((b) => b.at.linkId === loop.id).map((b) => b.at.chainageM);
    const gaps = places.map((atM, i) => (places[i + 1] ?? (places[0] as number) + loop.lengthM) - atM);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(40 + 1e-6);
    // 339.4 m round: 9 intervals.
    expect(places).toHaveLength(9);
  });

  it('lays a very long bore in time that grows with its length, not with the square', () => {
    const network = straight(50_000);
    const start = performance.now();
    expect(layEven(network, rules(5), [])).toHaveLength(10_001);
    // Some 30 ms; numbering each beacon by counting from 1 took 8 s.
    expect(performance.now() - start).toBeLessThan(2000);
  });

  it('leaves a beacon that a person put into a restricted link where it is', () => {
    const network = forked(400, [{ at: 0.5, lengthM: 100 }]);
    const links = network.links.map(
      (link): Link => ({ ...link, restricted: link.fromNode === 10 && link.toNode === 30 }),
    );
    const ramp = links.find((link) => link.restricted) as Link;
    const at = { linkId: ramp.id, chainageM: 30 };
    for (const id of ['n10', `${links[0]?.id}.2`] as BeaconId[]) {
      const beacons = layEven({ ...network, links }, rules(40), [{ id, at, anchor: 'position' }]);
      expect(beacons.filter((b) => b.at.linkId === ramp.id)).toMatchObject([
        { id, at, locked: true, anchor: 'position' },
      ]);
    }
  });
});

const anyNetwork = fc
  .record({
    lengthM: fc.double({ min: 60, max: 3000, noNaN: true }),
    ramps: fc.uniqueArray(
      fc.record({
        at: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        lengthM: fc.double({ min: 1, max: 400, noNaN: true }),
      }),
      { maxLength: 4, selector: (ramp) => Math.round(ramp.at * 50) },
    ),
  })
  .map(({ lengthM, ramps }) => forked(lengthM, ramps));

describe('any network, spacing and moved beacons', () => {
  it('has no gap above the spacing, unique ids, and leaves moved beacons where they are', () => {
    fc.assert(
      fc.property(
        anyNetwork,
        fc.double({ min: 5, max: 120, noNaN: true }),
        // Anywhere on the link, or a nudge from where it stood (ends and forks among them).
        fc.array(
          fc.tuple(
            fc.nat(),
            fc.double({ min: 0, max: 1, noNaN: true }),
            fc.option(fc.double({ min: -30, max: 30, noNaN: true })),
          ),
          { maxLength: 4 },
        ),
        (network, spacingM, moves) => {
          const before = layEven(network, rules(spacingM), []);
          const pins = new Map<BeaconId, Pin>();
          for (const [pick, share, nudgeM] of moves) {
            const ends = before.filter((b) => b.role === 'decision' || b.role === 'portal');
            const from = nudgeM === null ? before : ends;
            const beacon = from[pick % from.length] as Beacon;
            const link = network.links.find((l) => l.id === beacon.at.linkId) as Link;
            const wished = nudgeM === null ? share * link.lengthM : beacon.at.chainageM + nudgeM;
            const chainageM = Math.min(link.lengthM, Math.max(0, wished));
            pins.set(beacon.id, { id: beacon.id, at: { linkId: link.id, chainageM }, anchor: 'chainage' });
          }
          const after = layEven(network, rules(spacingM), [...pins.values()]);
          expect(new Set(after.map((b) => b.id)).size).toBe(after.length);
          for (const pin of pins.values()) expect(after.find((b) => b.id === pin.id)?.at).toEqual(pin.at);
          expect(largestGap(network, after)).toBeLessThanOrEqual(spacingM + 1e-6);
          for (const beacon of after) {
            const link = network.links.find((l) => l.id === beacon.at.linkId) as Link;
            expect(beacon.at.chainageM >= 0 && beacon.at.chainageM <= link.lengthM).toBe(true);
          }
        },
      ),
      { seed: 6, numRuns: 300 },
    );
  });
});

/** The longest drive from one fix to the next on any route: beacons, and satellites at both portals. From the result alone. */
function largestGap(network: ComplexNetwork, beacons: readonly Beacon[]): number {
  const gaps = network.complex.routes.flatMap(({ steps, lengthM }) => {
    let drivenM = 0;
    const fixes = [0, lengthM];
    for (const { linkId, against } of steps) {
      const link = network.links.find((one) => one.id === linkId) as Link;
      for (const { chainageM } of listPlaces(link, network.links, beacons)) {
        fixes.push(drivenM + (against ? link.lengthM - chainageM : chainageM));
      }
      drivenM += link.lengthM;
    }
    fixes.sort((a, b) => a - b);
    return fixes.slice(1).map((m, i) => m - (fixes[i] as number));
  });
  return Math.max(...gaps);
}
