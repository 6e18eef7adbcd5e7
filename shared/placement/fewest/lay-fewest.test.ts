import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawTunnel } from '../../../tests/places/draw-tunnel.ts';
import { buildBoreGraph } from '../../assurance/bore-graph.ts';
import { checkDesign } from '../../assurance/check-design.ts';
import { listStops } from '../../assurance/list-stops.ts';
import type { ComplexNetwork, Link } from '../../network/network.ts';
import type { Beacon, BeaconId, Pin } from '../beacon.ts';
import type { KeepOut } from '../keep-out.ts';
import { type LayoutInput, layEven } from '../lay-even.ts';
import { listHeard } from '../list-heard.ts';
import { makeRadius } from '../make-radius.ts';
import { DEFAULT_RULES, type Rules } from '../rules.ts';
import { listFaults } from './check-layout.fixture.ts';
import { keepsRows } from './keeps-rows.ts';
import { askFewest, layFewest } from './lay-fewest.ts';
import { sweep } from './sweep.ts';
import { toPlaces } from './to-beacons.ts';

function ask(
  network: ComplexNetwork,
  rules: Partial<Rules> = {},
  more: Partial<LayoutInput> = {},
): LayoutInput {
  const all = { ...DEFAULT_RULES, ...rules, method: 'fewest' as const };
  return { network, rules: all, pins: [], keepOuts: [], radiusM: makeRadius(all), ...more };
}

/** The checks of the design that are not met. */
function listUnmet(input: LayoutInput, beacons: readonly Beacon[]): readonly string[] {
  const { network, rules, keepOuts } = input;
  const graph = buildBoreGraph(network, beacons);
  const coverage = listHeard(network.links, rules, beacons);
  const checks = checkDesign({ network, rules, beacons, coverage, keepOuts, graph, stops: listStops(graph) });
  return checks.filter(({ status }) => status === 'not met').map(({ rule }) => rule);
}

const link = (network: ComplexNetwork, i = 0) => network.links[i] as Link;
const keepOut = (
  id: string,
  on: Link,
  fromM: number,
  toM: number,
  wall: KeepOut['wall'] = 'both',
): KeepOut => ({
  id,
  linkId: on.id,
  fromM,
  toM,
  wall,
  reason: '',
});
const pin = (id: string, on: Link, chainageM: number): Pin => ({
  id: id as BeaconId,
  at: { linkId: on.id, chainageM },
  anchor: 'chainage',
});

const forked = drawTunnel(900, [
  { at: 0.4, lengthM: 150 },
  { at: 0.7, lengthM: 120, joins: true },
]);

describe('layFewest', () => {
  // Common practice, no source: 2,300 m at 40 m, both ends: 59; at 80 m (and heard as far): 30.
  it.each([
    [40, 40, 59],
    [80, 80, 30],
  ])('2,300 m at %s m, heard %s m, takes %s', (spacingM, coverageRadiusM, count) => {
    const input = ask(drawTunnel(2300), { spacingM, coverageRadiusM });
    const laid = layFewest(input);
    expect(laid.beacons).toHaveLength(count);
    expect(laid).toMatchObject({ method: 'sweep', gaps: [] });
    expect(listFaults(input, laid.beacons)).toEqual([]);
  });

  it('takes what coverage asks for where the radius is less than the spacing', () => {
    // Of any three in a row the outer ones are at most 2 · 25 m apart, and at the portals two stand within 25 m:
    // 1,000 / 25 + 1.
    const input = ask(drawTunnel(1000), { coverageRadiusM: 25, coverageDepth: 2 });
    const { beacons } = layFewest(input);
    expect(beacons).toHaveLength(41);
    expect(listFaults(input, beacons)).toEqual([]);
  });

  it('names roles and ids as the even method does', () => {
    const { beacons } = layFewest(ask(forked));
    const roles = new Set(beacons.map(({ role }) => role));
    expect([...roles].sort()).toEqual(expect.arrayContaining(['branch', 'portal', 'spacing']));
    for (const node of [1, 2, 30, 31]) {
      expect(beacons.find(({ id }) => id === `n${node}`)?.role).toBe('portal');
    }
    const others = beacons.filter(({ id }) => !id.startsWith('n'));
    for (const { id, at } of others) expect(id.startsWith(`${at.linkId}.`)).toBe(true);
  });

  it('keeps every check of the assurance on a forked tunnel', () => {
    const input = ask(forked);
    const { beacons, gaps } = layFewest(input);
    expect(listUnmet(input, beacons)).toEqual([]);
    expect(listFaults(input, beacons)).toEqual([]);
    expect(gaps).toEqual([]);
  });

  it('stands inside the portals as far as the rules say', () => {
    const input = ask(drawTunnel(500), { portalOffsetM: 12 });
    const places = layFewest(input).beacons.map(({ at }) => at.chainageM);
    expect(places[0]).toBeCloseTo(12, 9);
    expect(places.at(-1)).toBeCloseTo(link(input.network).lengthM - 12, 9);
  });

  it('crosses over where one wall is kept out, and goes round where both are', () => {
    const network = drawTunnel(400);
    const keepOuts = [keepOut('a', link(network), 10, 80, 'right'), keepOut('b', link(network), 101, 139)];
    const input = ask(network, {}, { keepOuts });
    const { beacons, gaps } = layFewest(input);
    expect(gaps).toEqual([]);
    expect(listFaults(input, beacons)).toEqual([]);
    expect(beacons.some(({ side, at }) => side === 'left' && at.chainageM > 10 && at.chainageM < 80)).toBe(
      true,
    );
  });

  it('names a gap where a keep-out is longer than the spacing, with a beacon at each of its ends', () => {
    const network = drawTunnel(400);
    const { beacons, gaps } = layFewest(
      ask(network, {}, { keepOuts: [keepOut('a', link(network), 100, 190)] }),
    );
    expect(gaps.map(({ kind }) => kind)).toContain('gap');
    expect(gaps.find(({ kind }) => kind === 'gap')).toMatchObject({ need: 1, found: 0, chainageM: 100 });
    const places = beacons.map(({ at }) => at.chainageM);
    expect(places).toEqual(expect.arrayContaining([100, 190]));
  });

  it('lays two at each place where the rules want both walls, in turn where they want that', () => {
    const both = layFewest(ask(drawTunnel(400), { side: 'both', coverageDepth: 1 })).beacons;
    expect(both).toHaveLength(2 * 11);
    expect(both.filter(({ side }) => side === 'left')).toHaveLength(11);
    const turns = layFewest(ask(drawTunnel(400), { side: 'alternate' })).beacons;
    expect(turns.map(({ side }) => side).slice(0, 4)).toEqual(['right', 'left', 'right', 'left']);
  });

  it('puts one opposite a beacon that a person put somewhere, where the rules want both walls', () => {
    const network = drawTunnel(400, []);
    const own = { ...pin(`${link(network).id}.2`, link(network), 70), wall: 'left' as const };
    const input = ask(network, { side: 'both' }, { pins: [own] });
    const { beacons } = layFewest(input);
    const there = beacons.filter(({ at }) => at.chainageM === 70);
    expect(there.map(({ side, locked, role }) => [side, locked, role]).sort()).toEqual([
      ['left', true, 'manual'],
      ['right', false, 'spacing'],
    ]);
    const question = askFewest(input);
    const places = toPlaces(question, sweep(question), input.rules);
    const solution = { key: question.key, places, bound: places.length };
    expect(layFewest(input, solution)).toMatchObject({ method: 'solved', beacons });
    const pair = { ...pin(`${link(network).id}.3`, link(network), 75), wall: 'right' as const };
    const both = layFewest({ ...input, pins: [own, pair] }).beacons;
    expect(both.filter(({ at }) => at.chainageM === 70 || at.chainageM === 75)).toHaveLength(2);
  });

  it('takes a beacon that was moved from its portal for the portal’s own', () => {
    const network = drawTunnel(400);
    const { beacons } = layFewest(ask(network, {}, { pins: [pin('n1', link(network), 12)] }));
    expect(beacons[0]).toMatchObject({ id: 'n1', role: 'manual', at: { chainageM: 12 } });
  });

  it('leaves restricted links bare but for pins', () => {
    const network = drawTunnel(300);
    const closed = { ...network, links: network.links.map((one): Link => ({ ...one, restricted: true })) };
    expect(layFewest(ask(closed)).beacons).toEqual([]);
    expect(layFewest(ask(closed, {}, { pins: [pin('x', link(network), 50)] })).beacons).toHaveLength(1);
  });

  it('takes a solution only for its own question and where it keeps every row', () => {
    const input = ask(forked);
    const question = askFewest(input);
    const places = toPlaces(question, sweep(question), input.rules);
    const solution = { key: question.key, places, bound: places.length - 1 };
    const laid = layFewest(input, solution);
    expect(laid).toMatchObject({ method: 'solved', bound: places.length - 1 });
    expect(laid.beacons).toEqual(layFewest(input).beacons);
    expect(layFewest(input, { ...solution, places: places.slice(1) }).method).toBe('sweep');
    expect(layFewest(ask(forked, { spacingM: 39 }), solution).method).toBe('sweep');
    const moved = {
      ...solution,
      places: places.map((place) => ({ ...place, chainageM: place.chainageM + 0.3 })),
    };
    expect(layFewest(input, moved).method).toBe('sweep');
  });
});

describe('the key of a question', () => {
  const key = (input: LayoutInput) => askFewest(input).key;
  const base = key(ask(forked));

  it('is the same for the same question, whatever the order, and for rules that do not matter', () => {
    expect(key(ask(forked, { mountingHeightM: 4, minimumOutageS: 20, failureShare: 0.1 }))).toBe(base);
    expect(key(ask({ ...forked, links: [...forked.links].reverse() }))).toBe(base);
  });

  it.each<[string, LayoutInput]>([
    ['spacing', ask(forked, { spacingM: 41 })],
    ['coverage radius', ask(forked, { coverageRadiusM: 41 })],
    ['coverage depth', ask(forked, { coverageDepth: 2 })],
    ['portal offset', ask(forked, { portalOffsetM: 1 })],
    ['decision beacons', ask(forked, { decisionBeacons: 3 })],
    ['decision time', ask(forked, { decisionTimeS: 10 })],
    ['branch confirmation', ask(forked, { branchConfirmationM: 50 })],
    ['side', ask(forked, { side: 'left' })],
    ['a pin', ask(forked, {}, { pins: [pin('x', link(forked), 33)] })],
    ['a keep-out', ask(forked, {}, { keepOuts: [keepOut('a', link(forked), 30, 60)] })],
    ['the line', ask(drawTunnel(901, [{ at: 0.4, lengthM: 150 }]))],
    [
      'the direction',
      ask({ ...forked, links: forked.links.map((one): Link => ({ ...one, direction: 'both' })) }),
    ],
  ])('changes with %s', (_, input) => {
    expect(key(input)).not.toBe(base);
  });
});

/** Random tunnels with rules, pins and keep-outs. */
const inputs = fc
  .record({
    lengthM: fc.integer({ min: 120, max: 900 }),
    ramps: fc.array(
      fc.record({
        at: fc.double({ min: 0.15, max: 0.85, noNaN: true }),
        lengthM: fc.integer({ min: 40, max: 250 }),
        joins: fc.boolean(),
      }),
      { maxLength: 3 },
    ),
    isTwoWay: fc.boolean(),
    spacingM: fc.integer({ min: 20, max: 70 }),
    reach: fc.double({ min: 0.6, max: 1.6, noNaN: true }),
    coverageDepth: fc.integer({ min: 1, max: 3 }),
    portalOffsetM: fc.integer({ min: 0, max: 15 }),
    pins: fc.array(fc.tuple(fc.nat(), fc.double({ min: 0, max: 1, noNaN: true })), { maxLength: 4 }),
    keepOuts: fc.array(
      fc.tuple(
        fc.nat(),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 2, max: 18 }),
        fc.constantFrom('left' as const, 'right' as const, 'both' as const),
      ),
      { maxLength: 4 },
    ),
  })
  .map(({ lengthM, ramps, isTwoWay, reach, pins, keepOuts, ...rules }) => {
    // Ramps apart from each other: where two share a node the drawing is another one.
    const apart = ramps.filter((one, i) => ramps.findIndex(({ at }) => Math.abs(at - one.at) < 0.1) === i);
    const network = drawTunnel(lengthM, apart, isTwoWay);
    const on = (i: number) => link(network, i % network.links.length);
    return ask(
      network,
      { ...rules, coverageRadiusM: Math.max(15, Math.round(rules.spacingM * reach)) },
      {
        pins: pins.map(([i, at], n) => pin(`pin${n}`, on(i), at * on(i).lengthM)),
        keepOuts: keepOuts.map(([i, at, toM, wall], n) => {
          const fromM = at * Math.max(0, on(i).lengthM - toM);
          return keepOut(`keep${n}`, on(i), fromM, fromM + Math.min(toM, on(i).lengthM), wall);
        }),
      },
    );
  });

describe('any tunnel', () => {
  it('has no gap and no quiet place but those that are named; pins stay, keep-outs stay free', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const { beacons, gaps } = layFewest(input);
        const faults = listFaults(input, beacons);
        expect(faults.filter((fault) => !/gap of|heard at/.test(fault))).toEqual([]);
        if (gaps.length === 0) expect(faults).toEqual([]);
      }),
      { numRuns: 60, seed: 4 },
    );
  });

  it('never takes more than the even method where that keeps every rule', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const even = layEven(input);
        const question = askFewest(input);
        const places = new Set(even.map(({ at }) => `${at.linkId} ${at.chainageM.toFixed(5)}`));
        const chosen = question.candidates.flatMap(({ linkId, chainageM }, i) =>
          places.has(`${linkId} ${chainageM.toFixed(5)}`) ? [i] : [],
        );
        fc.pre(keepsRows(question, new Set(chosen)));
        expect(layFewest(input).beacons.length).toBeLessThanOrEqual(even.length);
      }),
      { numRuns: 60, seed: 4 },
    );
  });

  it('is laid the same whatever the order of its links, pins and keep-outs', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const turned = {
          ...input,
          network: { ...input.network, links: [...input.network.links].reverse() },
          pins: [...input.pins].reverse(),
          keepOuts: [...input.keepOuts].reverse(),
        };
        expect(layFewest(turned)).toEqual(layFewest(input));
        expect(askFewest(turned).key).toBe(askFewest(input).key);
      }),
      { numRuns: 30, seed: 4 },
    );
  });
});
