import { describe, expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { ComplexNetwork, Link } from '../network/network.ts';
import { listComplexNetworks } from '../pipeline/build-survey.ts';
import type { Beacon, BeaconId, Pin } from './beacon.ts';
import { isKeptOut, type KeepOut } from './keep-out.ts';
import { layEven } from './lay-even.ts';
import { makeRadius } from './make-radius.ts';
import { DEFAULT_RULES, type Rules } from './rules.ts';

const bore = { highway: 'trunk', oneway: 'yes', tunnel: 'yes', lanes: '2', maxspeed: '80' };
const ramp = { ...bore, highway: 'trunk_link', lanes: '1' };

function draw(drawing: PlaceDrawing): ComplexNetwork {
  const [network] = listComplexNetworks(buildNetwork(drawPlace(drawing), NETWORK_RULES).value);
  if (network === undefined) throw new Error('no tunnel');
  return network;
}

function lay(
  network: ComplexNetwork,
  own: Partial<Rules> = {},
  keepOuts: readonly KeepOut[] = [],
  pins: readonly Pin[] = [],
): readonly Beacon[] {
  const rules = { ...DEFAULT_RULES, ...own };
  return layEven({ network, rules, pins, keepOuts, radiusM: makeRadius(rules) });
}

const straight = (lengthM: number, tags: Record<string, string> = bore) =>
  draw({ nodes: { 1: [0, 0], 2: [lengthM, 0] }, ways: [{ id: 11, nodes: [1, 2], tags }] });

/** A bore of 800 m to the east; half way a ramp leaves it to the right at about 7°. */
const forked = draw({
  nodes: { 1: [0, 0], 2: [400, 0], 3: [800, 0], 4: [700, -40] },
  ways: [
    { id: 11, nodes: [1, 2, 3], tags: bore },
    { id: 12, nodes: [2, 4], tags: ramp },
  ],
});

const placesOn = (beacons: readonly Beacon[], linkId: string) =>
  beacons.filter(({ at }) => at.linkId === linkId).map(({ at }) => at.chainageM);

function keepOut(network: ComplexNetwork, fromM: number, toM: number, own: Partial<KeepOut> = {}): KeepOut {
  const [link] = network.links as [Link];
  return { id: 'keep-out-1', linkId: link.id, fromM, toM, wall: 'both', reason: 'door', ...own };
}

describe('layEven, portals and depth', () => {
  it('stands the portal offset inside both portals', () => {
    const places = lay(straight(400), { portalOffsetM: 10 }).map(({ at }) => at.chainageM);
    expect([places[0], places.at(-1)]).toEqual([10, expect.closeTo(390, 3)]);
    // 380 m: 10 intervals of 38 m.
    expect(places).toHaveLength(11);
    expect(places[1]).toBeCloseTo(48, 3);
  });

  it('meets in the middle of a bore that is shorter than two offsets', () => {
    const network = straight(60);
    expect(lay(network, { portalOffsetM: 50 }).map(({ at }) => at.chainageM)).toEqual([
      expect.closeTo(30, 3),
      expect.closeTo(30, 3),
    ]);
  });

  it('stands as close as the coverage depth asks for', () => {
    const intervals = (own: Partial<Rules>) => {
      const places = lay(straight(1200), own).map(({ at }) => at.chainageM);
      return (places.at(-1) as number) / (places.length - 1);
    };
    // One beacon heard everywhere: twice the radius; two: the radius; three: half of it, because of the portals.
    expect(intervals({ spacingM: 200, coverageRadiusM: 60, coverageDepth: 1 })).toBeCloseTo(120, 3);
    expect(intervals({ spacingM: 200, coverageRadiusM: 60, coverageDepth: 2 })).toBeCloseTo(60, 3);
    expect(intervals({ spacingM: 200, coverageRadiusM: 60, coverageDepth: 3 })).toBeCloseTo(30, 3);
  });
});

describe('layEven, sides', () => {
  it.each([
    ['near', 'right', 'right'],
    ['near', 'left', 'left'],
    ['left', 'right', 'left'],
    ['right', 'left', 'right'],
  ] as const)('%s where traffic keeps %s: the %s wall', (side, drivingSide, wall) => {
    const walls = lay(straight(200), { side, drivingSide }).map((beacon) => beacon.side);
    expect(new Set(walls)).toEqual(new Set([wall]));
  });

  it('alternates from the near wall', () => {
    const beacons = lay(straight(200), { side: 'alternate' });
    expect(beacons.map(({ side }) => side).slice(0, 5)).toEqual(['right', 'left', 'right', 'left', 'right']);
    expect(beacons.map(({ offsetM }) => offsetM).slice(0, 2)).toEqual([4.5, -4.5]);
  });

  it('stands on both walls, opposite each other, around a beacon that was moved too', () => {
    const network = straight(200);
    const [link] = network.links as [Link];
    const at = { linkId: link.id, chainageM: 90 };
    const id = `${link.id}.3` as BeaconId;
    const pins: Pin[] = [{ id, at, anchor: 'chainage', wall: 'right' }];
    const beacons = lay(network, { side: 'both' }, [], pins);
    const right = beacons.filter(({ side }) => side === 'right').map(({ at: { chainageM } }) => chainageM);
    const left = beacons.filter(({ side }) => side === 'left').map(({ at: { chainageM } }) => chainageM);
    expect(left).toEqual(right);
    expect(left).toContain(90);
    expect(new Set(beacons.map((one) => one.id)).size).toBe(beacons.length);
    expect(beacons.find((one) => one.id === id)).toMatchObject({ locked: true, side: 'right' });
  });

  it('takes the outer walls as long as two branches are one room', () => {
    // The ramp lies to the right: its outer wall is the right one, the bore's the left one, until a wall fits between.
    const beacons = lay(forked, { side: 'near' });
    const walls = (linkId: string) =>
      beacons
        .filter(({ at }) => at.linkId === linkId)
        .map(({ at, side }) => [Math.round(at.chainageM), side]);
    const [main, branch] = ['11-2-3', '12-2-4'].map(walls) as [unknown[], unknown[]];
    // 40/300 to the side: 3.5 + 1.75 m and two shoulders of 1 m, 7.25 m, are reached after some 54 m.
    expect(main.slice(0, 2)).toEqual([
      [40, 'left'],
      [80, 'right'],
    ]);
    expect(branch.slice(0, 2)).toEqual([
      [40, 'right'],
      [78, 'right'],
    ]);
  });
});

describe('layEven, keep-outs', () => {
  it('moves to the nearest free place, and the rest is laid anew in equal intervals', () => {
    const network = straight(400);
    // Ten intervals of 40 m; the beacon at 120 m goes to 125 m.
    const places = lay(network, {}, [keepOut(network, 110, 125)]).map(({ at }) => at.chainageM);
    expect(places).toContain(125);
    const gaps = places.slice(1).map((m, i) => m - (places[i] as number));
    expect(gaps.slice(0, 4)).toEqual([31.25, 31.25, 31.25, 31.25].map((m) => expect.closeTo(m, 3)));
    expect(gaps.slice(4).every((m) => Math.abs(m - 275 / 7) < 0.01)).toBe(true);
  });

  it('crosses to the other wall where its own is closed for longer than the spacing', () => {
    const network = straight(400);
    const beacons = lay(network, {}, [keepOut(network, 90, 210, { wall: 'right' })]);
    expect(beacons.map(({ at }) => Math.round(at.chainageM))).toEqual([
      0, 40, 80, 120, 160, 200, 240, 280, 320, 360, 400,
    ]);
    expect(beacons.map(({ side }) => side).slice(2, 7)).toEqual(['right', 'left', 'left', 'left', 'right']);
  });

  it('ignores a keep-out on the other wall', () => {
    const network = straight(400);
    expect(lay(network, {}, [keepOut(network, 90, 210, { wall: 'left' })])).toEqual(lay(network));
  });

  it('leaves a gap where both walls are closed for longer than the spacing', () => {
    const network = straight(400);
    const places = lay(network, {}, [keepOut(network, 90, 210)]).map(({ at }) => at.chainageM);
    expect(places).toContain(90);
    expect(places).toContain(210);
    expect(places.some((m) => m > 90 && m < 210)).toBe(false);
  });

  it('moves a portal’s beacon inwards, and a fork’s one into the bore that every driver passes', () => {
    const atPortal = lay(forked, {}, [keepOut(forked, 0, 12)]);
    expect(atPortal.find(({ id }) => id === 'n1')?.at.chainageM).toBe(12);
    const all = forked.links.map((link) => ({
      id: `keep-out-${link.id}`,
      linkId: link.id,
      fromM: link.fromNode === 2 ? 0 : link.lengthM - 8,
      toM: link.fromNode === 2 ? 8 : link.lengthM,
      wall: 'both' as const,
      reason: 'joint',
    }));
    const atFork = lay(forked, {}, all).find(({ id }) => id === 'n2') as Beacon;
    expect(atFork.at.linkId).toBe('11-1-2');
    expect(atFork.at.chainageM).toBeCloseTo(392, 3);
  });

  it('begins behind a keep-out that closes the portal for longer than the spacing', () => {
    const network = straight(400);
    const places = lay(network, {}, [keepOut(network, 0, 100)]).map(({ at }) => at.chainageM);
    expect(places[0]).toBe(100);
    // 300 m: eight intervals.
    expect(places).toHaveLength(9);
  });

  it('never moves a beacon that a person put somewhere', () => {
    const network = straight(400);
    const [link] = network.links as [Link];
    const pin: Pin = {
      id: `${link.id}.3` as BeaconId,
      at: { linkId: link.id, chainageM: 118 },
      anchor: 'chainage',
    };
    const beacons = lay(network, {}, [keepOut(network, 110, 125)], [pin]);
    expect(beacons.find(({ id }) => id === pin.id)?.at).toEqual(pin.at);
  });
});

describe('layEven, forks', () => {
  it('confirms a branch as far past the fork as the rules allow, so that the sister branch does not hear it', () => {
    for (const linkId of ['11-2-3', '12-2-4']) {
      const first = placesOn(lay(forked), linkId).filter((m) => m > 0)[0];
      expect(first).toBeCloseTo(40, 6);
    }
    const [wide] = placesOn(lay(forked, { spacingM: 80, branchConfirmationM: 25 }), '12-2-4').filter(
      (m) => m > 0,
    );
    expect(wide).toBeCloseTo(25, 6);
  });

  it('stands across the road where a ramp has its mouth in the near wall', () => {
    // The ramp leaves to the right at a right angle: its middle runs through the near wall's place at the fork.
    const steep = draw({
      nodes: { 1: [0, 0], 2: [400, 0], 3: [800, 0], 4: [400, -300] },
      ways: [
        { id: 11, nodes: [1, 2, 3], tags: bore },
        { id: 12, nodes: [2, 4], tags: ramp },
      ],
    });
    expect(lay(steep).find(({ id }) => id === 'n2')).toMatchObject({ side: 'left', offsetM: -4.5 });
    const both = lay(steep, { side: 'both' }).filter(({ at }) => at.linkId === '11-1-2');
    for (const chainageM of new Set(both.map(({ at }) => at.chainageM))) {
      expect(both.filter(({ at }) => at.chainageM === chainageM)).toHaveLength(2);
    }
  });

  it('brings the beacon of a branch’s far end near enough to confirm it, where every driver passes it there', () => {
    // The branch of 45 m leads to another fork: its beacon stands at 40 m and does for both.
    const row = draw({
      nodes: { 1: [0, 0], 2: [300, 0], 3: [345, 0], 4: [800, 0], 5: [500, -60], 6: [545, 60] },
      ways: [
        { id: 11, nodes: [1, 2, 3, 4], tags: bore },
        { id: 12, nodes: [2, 5], tags: ramp },
        { id: 13, nodes: [3, 6], tags: ramp },
      ],
    });
    const between = lay(row).filter(({ at }) => at.linkId === '11-2-3' && at.chainageM > 1);
    expect(between.map(({ id, at }) => [id, Math.round(at.chainageM)])).toEqual([['n3', 40]]);
  });

  it('puts enough beacons into the decision sight distance before a fork', () => {
    // 50 km/h × 14.5 s: 201.55 m. At 300 m spacing none would stand in it; two need 100.8 m.
    const slow = draw({
      nodes: { 1: [0, 0], 2: [900, 0], 3: [1300, 0], 4: [1200, -60] },
      ways: [
        { id: 11, nodes: [1, 2, 3], tags: { ...bore, maxspeed: '50' } },
        { id: 12, nodes: [2, 4], tags: { ...ramp, maxspeed: '50' } },
      ],
    });
    const inSight = (own: Partial<Rules>) =>
      placesOn(lay(slow, { spacingM: 300, coverageRadiusM: 300, ...own }), '11-1-2').filter(
        (m) => m < 899.9 && m > 900 - 201.6,
      );
    expect(inSight({ decisionBeacons: 2 })).toHaveLength(2);
    expect(inSight({ decisionBeacons: 4 })).toHaveLength(4);
    expect(inSight({ decisionBeacons: 0 })).toHaveLength(0);
  });

  it('puts them before the exit portal too where a decision follows in the open air', () => {
    // The fork is 150 m past the portal at node 2; of 201.55 m of sight 51.55 m lie inside, with the portal's beacon.
    const network = draw({
      nodes: { 1: [0, 0], 2: [900, 0], 3: [1050, 0], 4: [1400, 0], 5: [1300, 60] },
      ways: [
        { id: 11, nodes: [1, 2], tags: { ...bore, maxspeed: '50' } },
        { id: 12, nodes: [2, 3, 4], tags: { highway: 'trunk', oneway: 'yes', maxspeed: '50' } },
        { id: 13, nodes: [3, 5], tags: { highway: 'trunk_link', oneway: 'yes', maxspeed: '50' } },
      ],
    });
    const own = { spacingM: 300, coverageRadiusM: 300 };
    const inSight = (rules: Partial<Rules>) =>
      lay(network, { ...own, ...rules }).filter(({ at }) => at.chainageM >= 900 - 51.6);
    expect(inSight({ decisionBeacons: 2 })).toHaveLength(2);
    expect(inSight({ decisionBeacons: 3 })).toHaveLength(3);
    // Six would stand closer than the closest spacing of 15 m lets them: nothing is asked.
    expect(inSight({ decisionBeacons: 6 })).toHaveLength(1);
  });

  it('gives an approach that begins at a near portal the one beacon that it lacks', () => {
    const near = draw({
      nodes: { 1: [0, 0], 2: [30, 0], 3: [430, 0], 4: [330, -60] },
      ways: [
        { id: 11, nodes: [1, 2, 3], tags: bore },
        { id: 12, nodes: [2, 4], tags: ramp },
      ],
    });
    expect(placesOn(lay(near), '11-1-2')).toEqual([0, 15, 30].map((m) => expect.closeTo(m, 3)));
  });

  it('lets nodes that are nearer than the closest spacing share one beacon where every driver passes both', () => {
    // Two ramps leave within 10 m of each other; whoever passes the second fork has passed the first.
    const close = draw({
      nodes: { 1: [0, 0], 2: [200, 0], 3: [210, 0], 4: [600, 0], 5: [400, 80], 6: [400, -80] },
      ways: [
        { id: 11, nodes: [1, 2, 3, 4], tags: bore },
        { id: 12, nodes: [2, 5], tags: ramp },
        { id: 13, nodes: [3, 6], tags: ramp },
      ],
    });
    const ids = lay(close).map(({ id }) => id);
    expect(ids.filter((id) => id === 'n2' || id === 'n3')).toHaveLength(1);
    expect(lay(close, { closestM: 0 }).filter(({ id }) => id === 'n2' || id === 'n3')).toHaveLength(2);
  });
});

describe('layEven where a whole bore is kept out', () => {
  const [ramp] = forked.links.filter(({ toNode }) => toNode === 4) as [Link];

  it.each(['both', 'left', 'right'] as const)('puts nothing into it: %s', (wall) => {
    const closed = keepOut(forked, 0, ramp.lengthM, { linkId: ramp.id, wall });
    for (const side of ['near', 'left', 'right', 'alternate', 'both'] as const) {
      const inside = lay(forked, { side }, [closed]).filter(
        (beacon) =>
          beacon.at.linkId === ramp.id && isKeptOut([closed], ramp, beacon.at.chainageM, beacon.side),
      );
      expect(inside, side).toEqual([]);
    }
  });
});
