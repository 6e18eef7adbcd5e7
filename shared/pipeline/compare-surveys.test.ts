import { describe, expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import type { GroupingOverride } from '../network/group-links.ts';
import type { LinkId, TunnelNetwork } from '../network/network.ts';
import type { Anchor, BeaconId } from '../placement/beacon.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { replay } from '../scheme/apply-command.ts';
import { carrySchemes } from '../scheme/carry-schemes.ts';
import { type Command, makeScheme, type Scheme } from '../scheme/scheme.ts';
import { buildSurvey } from './build-survey.ts';
import { compareSurveys } from './compare-surveys.ts';
import { type Rebuilt, rebuildSurvey } from './rebuild-survey.ts';

const bore = { highway: 'primary', tunnel: 'yes', maxspeed: '50', lanes: '2' };
const oneway = { ...bore, oneway: 'yes' };
/** Two lanes of 3.5 m and a shoulder of 1 m: the wall is 4.5 m from the line. */
const WALL_M = 4.5;

function build(drawing: PlaceDrawing): TunnelNetwork {
  const base = buildSurvey(drawPlace(drawing), 'place');
  if (!base.ok) throw new Error(base.refusal.code);
  return base.value.network;
}

function rebuild(
  before: TunnelNetwork,
  drawing: PlaceDrawing,
  overrides: readonly GroupingOverride[] = [],
): Rebuilt {
  const rebuilt = rebuildSurvey(before, drawPlace(drawing), 'newer', overrides);
  if (!rebuilt.ok) throw new Error(rebuilt.refusal.code);
  return rebuilt.value;
}

/** A scheme of the complex at `index` with beacons that a person put at chainages of its first link. */
function pin(
  network: TunnelNetwork,
  index: number,
  pins: readonly (readonly [chainageM: number, anchor: Anchor])[],
): Scheme {
  const complex = network.complexes[index];
  if (complex === undefined) throw new Error('no such complex');
  const linkId = complex.linkIds[0] as LinkId;
  const log = pins.map(
    ([chainageM, anchor], i): Command => ({
      kind: 'slideBeacon',
      commandId: `slide-${complex.id}-${i}`,
      beaconId: `${linkId}.${i + 1}` as BeaconId,
      to: { linkId, chainageM },
      anchor,
    }),
  );
  return { ...makeScheme(complex.id), revision: log.length, log, ...replay(log) };
}

const compare = (network: TunnelNetwork, schemes: readonly Scheme[], rebuilt: Rebuilt) =>
  compareSurveys({ network, schemes, rules: DEFAULT_RULES }, rebuilt);

const straight: PlaceDrawing = {
  nodes: { 1: [0, 0], 2: [500, 0], 3: [1000, 0] },
  ways: [{ id: 11, nodes: [1, 2, 3], tags: bore }],
};

describe('a newer extract', () => {
  it('of the same map changes nothing', () => {
    const network = build(straight);
    const schemes = [pin(network, 0, [[300, 'chainage']])];
    const found = compare(network, schemes, rebuild(network, straight));
    expect(found).toMatchObject({
      complexes: [],
      links: [],
      beacons: [],
      notes: [],
      greatestBeaconShiftM: 0,
    });
    // 1,000 m at 40 m: 26 beacons, one of them moved, which costs one more: 300 m and 700 m at 40 m.
    expect(found.unchanged).toEqual({ complexes: 1, links: 1, beacons: 1 + 8 + 18 });
  });

  it('with a way split in two, or drawn anew over the same nodes, keeps every id and moves nothing', () => {
    const network = build(straight);
    const schemes = [pin(network, 0, [[300, 'position']])];
    const split = [
      { id: 11, nodes: [1, 2], tags: bore },
      { id: 57, nodes: [2, 3], tags: { ...bore, lanes: '2' } },
    ];
    const anew = [{ id: 9, nodes: [1, 2, 3], tags: bore }];
    for (const ways of [split, anew]) {
      const rebuilt = rebuild(network, { ...straight, ways });
      expect(rebuilt.network.links.map(({ id }) => id)).toEqual(network.links.map(({ id }) => id));
      expect(rebuilt.network.complexes.map(({ id }) => id)).toEqual(['t11']);
      expect(compare(network, schemes, rebuilt)).toMatchObject({ complexes: [], links: [], beacons: [] });
    }
  });

  it('with other limits, widths or names but the same lines says in what it differs', () => {
    const network = build(straight);
    const facetsOf = (ways: PlaceDrawing['ways']) =>
      compare(network, [], rebuild(network, { ...straight, ways })).complexes.map(({ facets }) => facets);
    const tagged = (tags: Record<string, string>) => [
      { id: 11, nodes: [1, 2, 3], tags: { ...bore, ...tags } },
    ];
    expect(facetsOf(tagged({}))).toEqual([]);
    expect(facetsOf(tagged({ maxspeed: '60' }))).toEqual([['limits']]);
    expect(facetsOf(tagged({ lanes: '4' }))).toEqual([['widths']]);
    expect(facetsOf(tagged({ name: 'Low Bore' }))).toEqual([['name']]);
    const halfLimited = [
      { id: 11, nodes: [1, 2], tags: bore },
      { id: 12, nodes: [2, 3], tags: { ...bore, maxspeed: '60' } },
    ];
    expect(facetsOf(halfLimited)).toEqual([['limits']]);
  });

  it('with a bend moved lists how far the link and each beacon go', () => {
    const network = build(straight);
    const schemes = [
      pin(network, 0, [
        [300, 'chainage'],
        [300, 'position'],
      ]),
    ];
    const nodes = { ...straight.nodes, 2: [500, 30] as const };
    const rebuilt = rebuild(network, { ...straight, nodes });
    const found = compare(network, schemes, rebuilt);
    // By hand: two sides of √(500² + 30²) = 500.899 m; the new bend is 30 m from the old line.
    expect(found.links).toMatchObject([{ id: '11-1-3', change: 'moved', lengthBeforeM: 1000 }]);
    expect(found.links[0]?.lengthAfterM).toBeCloseTo(1001.798, 1);
    expect(found.links[0]?.greatestShiftM).toBeCloseTo(30, 1);
    const [byChainage, byPlace] = ['11-1-3.1', '11-1-3.2'].map((id) =>
      found.beacons.find((beacon) => beacon.id === id),
    );
    expect(byChainage).toMatchObject({
      change: 'moved',
      kept: 'chainage',
      to: { chainageM: 300 },
      locked: true,
    });
    // The foot of the perpendicular from (300, 0): 300 × cos 3.434° = 299.461 m along.
    expect(byPlace).toMatchObject({ change: 'moved', kept: 'place', locked: true });
    expect(byPlace?.to?.chainageM).toBeCloseTo(299.461, 1);
    // (300, −4.5) goes to the wall beside 300 m along the new line: (299.461 + 0.270, 17.968 − 4.492), 17.98 m away.
    expect(byChainage?.shiftM).toBeCloseTo(Math.hypot(0.269 - 0.539, 17.968 + WALL_M - 4.492), 1);
    const first = found.beacons.find((beacon) => beacon.id === 'n1');
    // At the portal only the direction turns: 2 × 4.5 × sin(3.434°/2).
    expect(first).toMatchObject({ kept: 'layout', locked: false });
    expect(first?.shiftM).toBeCloseTo(0.27, 2);
    expect(found.greatestBeaconShiftM).toBe(Math.max(...found.beacons.map(({ shiftM = 0 }) => shiftM)));
  });

  it('with a fork in the bore puts a beacon on the part where it stands', () => {
    const network = build(straight);
    const schemes = [
      pin(network, 0, [
        [300, 'chainage'],
        [700, 'chainage'],
        [710, 'position'],
      ]),
    ];
    const forked: PlaceDrawing = {
      nodes: { ...straight.nodes, 4: [800, -80] },
      ways: [
        { id: 11, nodes: [1, 2, 3], tags: bore },
        { id: 20, nodes: [2, 4], tags: { ...bore, highway: 'primary_link' } },
      ],
    };
    const rebuilt = rebuild(network, forked);
    const { schemes: carried } = carrySchemes(network, rebuilt.network, rebuilt.pieces, schemes, 'c');
    const places = carried[0]?.pinned.map(({ at }) => {
      const link = rebuilt.network.links.find(({ id }) => id === at.linkId);
      return [link?.fromNode, link?.toNode, Math.round(at.chainageM)];
    });
    expect(places).toEqual([
      [1, 2, 300],
      [2, 3, 200],
      [2, 3, 210],
    ]);
    const found = compare(network, schemes, rebuilt);
    expect(found.links.map(({ id, change }) => [id, change])).toEqual([
      ['11-1-3', 'split'],
      ['11-2-3', 'appeared'],
      ['20-2-4', 'appeared'],
    ]);
    expect(found.complexes).toMatchObject([{ id: 't11', change: 'changed' }]);
    // The one at 300 m has not even changed its link.
    expect(found.beacons.filter(({ locked }) => locked).map(({ shiftM }) => shiftM)).toEqual([0, 0]);
  });

  it('with a shorter bore keeps the place of a beacon that cannot keep its chainage, or says that it is gone', () => {
    const network = build(straight);
    const schemes = [
      pin(network, 0, [
        [400, 'chainage'],
        [800, 'chainage'],
      ]),
    ];
    const nodes = { 1: [0, 0], 2: [500, 0], 3: [1000, 0] } as const;
    const ways = [
      { id: 11, nodes: [1, 2], tags: bore },
      { id: 12, nodes: [2, 3], tags: { highway: 'primary' } },
    ];
    const found = compare(network, schemes, rebuild(network, { nodes, ways }));
    const locked = found.beacons.filter((beacon) => beacon.locked);
    expect(locked).toMatchObject([{ id: '11-1-3.2', change: 'removed', kept: 'none' }]);
    expect(found.links).toMatchObject([{ id: '11-1-3', change: 'moved', lengthAfterM: 500 }]);
  });

  it('with a portal farther out lists a beacon that keeps its place but not its chainage', () => {
    const network = build({ ...straight, ways: [{ id: 11, nodes: [2, 3], tags: bore }] });
    const schemes = [pin(network, 0, [[200, 'position']])];
    const found = compare(network, schemes, rebuild(network, straight));
    expect(found.beacons.filter(({ locked }) => locked)).toMatchObject([
      { change: 'moved', kept: 'place', from: { chainageM: 200 }, to: { chainageM: 700 }, shiftM: 0 },
    ]);
  });

  it('without the tunnel lists its beacons as gone; a new one that is named alike gets another id', () => {
    const two: PlaceDrawing = {
      nodes: { ...straight.nodes, 7: [0, 3000], 8: [600, 3000] },
      ways: [...straight.ways, { id: 30, nodes: [7, 8], tags: bore }],
    };
    const network = build(two);
    const schemes = [pin(network, 1, [[100, 'chainage']])];
    const gone = compare(network, schemes, rebuild(network, straight));
    expect(gone.complexes).toMatchObject([{ id: 't30', change: 'vanished', others: [] }]);
    expect(gone.beacons.every(({ complexId, change }) => complexId === 't30' && change === 'removed')).toBe(
      true,
    );
    expect(gone.beacons.filter(({ locked }) => locked)).toHaveLength(1);
    const ways = [...straight.ways, { id: 30, nodes: [70, 80], tags: bore }];
    const nodes = { ...straight.nodes, 70: [0, 9000], 80: [600, 9000] } as const;
    const rebuilt = rebuild(network, { nodes, ways });
    expect(rebuilt.network.complexes.map(({ id }) => id)).toEqual(['t11', 't30~2']);
  });

  it('with twin bores drawn anew, with other nodes and 6 m aside, tells them apart by their direction', () => {
    const twins = (northM: number, base: number): PlaceDrawing => ({
      nodes: {
        [base + 1]: [0, northM],
        [base + 2]: [800, northM],
        [base + 3]: [800, northM + 10],
        [base + 4]: [0, northM + 10],
      },
      ways: [
        { id: base + 11, nodes: [base + 1, base + 2], tags: oneway },
        { id: base + 12, nodes: [base + 3, base + 4], tags: oneway },
      ],
    });
    const network = build(twins(0, 0));
    const schemes = [pin(network, 0, [[200, 'position']])];
    const rebuilt = rebuild(network, twins(6, 100));
    expect(rebuilt.network.links.map(({ id, fromNode }) => [id, fromNode])).toEqual([
      ['11-1-2', 101],
      ['12-3-4', 103],
    ]);
    const found = compare(network, schemes, rebuilt);
    expect(found.links).toMatchObject([
      { id: '11-1-2', change: 'moved', greatestShiftM: 6 },
      { id: '12-3-4', change: 'moved', greatestShiftM: 6 },
    ]);
    const moved = found.beacons.find(({ locked }) => locked);
    expect(moved).toMatchObject({ kept: 'place', to: { chainageM: 200 }, shiftM: 6 });
  });

  it('drawn the other way round keeps places along the bore, and tells that the wall is the other one', () => {
    const network = build(straight);
    const schemes = [pin(network, 0, [[300, 'chainage']])];
    const ways = [{ id: 11, nodes: [3, 2, 1], tags: bore }];
    const found = compare(network, schemes, rebuild(network, { ...straight, ways }));
    const moved = found.beacons.find(({ locked }) => locked);
    expect(moved).toMatchObject({ to: { chainageM: 700 }, kept: 'chainage' });
    expect(moved?.shiftM).toBeCloseTo(2 * WALL_M, 2);
  });
});

describe('joining two tunnels by hand', () => {
  const two: PlaceDrawing = {
    nodes: { 1: [0, 0], 2: [400, 0], 5: [0, 500], 6: [600, 500] },
    ways: [
      { id: 11, nodes: [1, 2], tags: { ...bore, name: 'Low Bore' } },
      { id: 30, nodes: [5, 6], tags: { ...bore, name: 'High Bore' } },
    ],
  };
  const network = build(two);
  const rebuilt = rebuild(network, two, [{ kind: 'join', ways: [11, 30] }]);

  it('keeps the id that a fresh import gives and both their beacons, and says whose rules hold', () => {
    const rule: Command = { kind: 'setRule', commandId: 'rule-1', rule: 'spacingM', value: 30 };
    const low = pin(network, 0, [[100, 'chainage']]);
    const log = [...low.log, rule];
    const schemes = [{ ...low, revision: 2, log, ...replay(log) }, pin(network, 1, [[200, 'chainage']])];
    const { schemes: carried, rulesDiffer } = carrySchemes(
      network,
      rebuilt.network,
      rebuilt.pieces,
      schemes,
      'join-1',
    );
    expect(carried).toHaveLength(1);
    expect(carried[0]).toMatchObject({ complexId: 't11', revision: 3, rules: { spacingM: 30 } });
    expect(carried[0]?.pinned.map(({ id, at }) => [id, at.linkId, at.chainageM])).toEqual([
      ['11-1-2.1', '11-1-2', 100],
      ['30-5-6.1', '30-5-6', 200],
    ]);
    expect(carried[0]?.log.at(-1)).toMatchObject({ kind: 'carry', commandId: 'join-1' });
    expect(rulesDiffer).toEqual([{ complexId: 't11', otherId: 't30' }]);
    const found = compare(network, schemes, rebuilt);
    expect(found.complexes).toMatchObject([
      { id: 't11', change: 'joined', others: ['t30'] },
      { id: 't30', change: 'vanished', others: ['t11'] },
    ]);
    expect(found.notes).toMatchObject([{ code: 'rules-differ', complexId: 't11' }]);
  });

  it('and splitting them again gives each its beacons and rules back', () => {
    const schemes = [pin(network, 0, [[100, 'chainage']]), pin(network, 1, [[200, 'chainage']])];
    const joined = carrySchemes(network, rebuilt.network, rebuilt.pieces, schemes, 'join-1').schemes;
    const apart = rebuild(rebuilt.network, two);
    expect(apart.network.complexes.map(({ id }) => id)).toEqual(['t11', 't30']);
    const back = carrySchemes(rebuilt.network, apart.network, apart.pieces, joined, 'split-1').schemes;
    expect(back.map(({ pinned }) => pinned)).toEqual(schemes.map(({ pinned }) => pinned));
  });
});
