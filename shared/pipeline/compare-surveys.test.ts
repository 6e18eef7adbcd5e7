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
    expect(carried.map(({ complexId }) => complexId)).toEqual(['t11', 't30']);
    // The scheme of the tunnel that is gone rests as it was.
    expect(carried[1]).toBe(schemes[1]);
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

  it('and splitting them again gives each its beacons and rules back, under revisions that go on', () => {
    const rule: Command = { kind: 'setRule', commandId: 'rule-1', rule: 'spacingM', value: 20 };
    const high = pin(network, 1, [[200, 'chainage']]);
    const log = [...high.log, rule];
    const schemes = [pin(network, 0, [[100, 'chainage']]), { ...high, revision: 2, log, ...replay(log) }];
    const joined = carrySchemes(network, rebuilt.network, rebuilt.pieces, schemes, 'join-1').schemes;
    const apart = rebuild(rebuilt.network, two);
    expect(apart.network.complexes.map(({ id }) => id)).toEqual(['t11', 't30']);
    const back = carrySchemes(rebuilt.network, apart.network, apart.pieces, joined, 'split-1').schemes;
    const content = (list: readonly Scheme[]) => list.map(({ pinned, rules }) => ({ pinned, rules }));
    expect(content(back)).toEqual(content(schemes));
    // Whoever knows the revision from before the join has missed something.
    expect(back.map(({ revision }) => revision)).toEqual([3, 3]);
  });
});

describe('a beacon that a person moved', () => {
  /** Complex, id, link and chainage of each in the newer state; the schemes of tunnels that are gone rest. */
  const pinsAfter = (network: TunnelNetwork, schemes: readonly Scheme[], rebuilt: Rebuilt) => {
    const live = new Set(rebuilt.network.complexes.map(({ id }) => id));
    return carrySchemes(network, rebuilt.network, rebuilt.pieces, schemes, 'c')
      .schemes.filter(({ complexId }) => live.has(complexId))
      .flatMap(({ complexId, pinned }) =>
        pinned.map(({ id, at }) => [complexId, id, at.linkId, Math.round(at.chainageM * 10) / 10] as const),
      );
  };

  it('gets a new id in another tunnel where the old one lays its own under it, there and back', () => {
    const bores = (open: boolean): PlaceDrawing => ({
      nodes: { 1: [0, 0], 2: [600, 0], 3: [700, 0], 4: [1000, 0] },
      ways: [
        { id: 11, nodes: [1, 2], tags: bore },
        { id: 12, nodes: [2, 3], tags: open ? { highway: 'primary' } : bore },
        { id: 13, nodes: [3, 4], tags: bore },
      ],
    });
    const network = build(bores(false));
    const schemes = [pin(network, 0, [[800, 'position']])];
    const cut = rebuild(network, bores(true));
    const carried = carrySchemes(network, cut.network, cut.pieces, schemes, 'c').schemes;
    const moved = carried.flatMap(({ complexId, pinned }) => pinned.map(({ id }) => [complexId, id]));
    expect(moved).toEqual([['t13', '13-3-4.moved1']]);
    const found = compare(network, schemes, cut);
    expect(found.beacons.filter(({ locked }) => locked)).toMatchObject([
      { complexId: 't13', id: '13-3-4.moved1', change: 'moved', shiftM: 0 },
    ]);
    // The tunnel that kept its id lays its own beacon of the old number and moves it; then all is one tunnel again.
    const own = carried.map((scheme) => {
      if (scheme.complexId !== 't11') return scheme;
      const slide = {
        kind: 'slideBeacon',
        commandId: 's',
        beaconId: '11-1-4.1',
        to: { linkId: '11-1-4', chainageM: 210 },
        anchor: 'position',
      } as Command;
      const log = [...scheme.log, slide];
      return { ...scheme, revision: scheme.revision + 1, log, ...replay(log) };
    });
    const whole = rebuild(cut.network, bores(false));
    expect(
      pinsAfter(cut.network, own, whole)
        .map(([, , , atM]) => atM)
        .sort(),
    ).toEqual([210, 800]);
  });

  it('is gone with its bore, though another bore lies above or beside it', () => {
    for (const [northM, layer] of [
      [3, '-3'],
      [15, '-1'],
    ] as const) {
      const both: PlaceDrawing = {
        nodes: { 1: [0, 0], 2: [600, 0], 4: [0, northM], 5: [600, northM] },
        ways: [
          { id: 11, nodes: [1, 2], tags: { ...bore, name: 'Upper', layer: '-1' } },
          { id: 12, nodes: [4, 5], tags: { ...bore, name: 'Lower', layer } },
        ],
      };
      const network = build(both);
      const schemes = [pin(network, 1, [[200, 'position']])];
      const nodes = { ...both.nodes, 2: [601, 0] } as const;
      const rebuilt = rebuild(network, { nodes, ways: both.ways.slice(0, 1) });
      expect(pinsAfter(network, schemes, rebuilt)).toEqual([]);
      const found = compare(network, schemes, rebuilt);
      expect(found.beacons.filter(({ locked }) => locked)).toMatchObject([
        { change: 'removed', kept: 'none' },
      ]);
      expect(found.complexes.map(({ id, change }) => [id, change])).toEqual([
        ['t11', 'changed'],
        ['t12', 'vanished'],
      ]);
    }
  });

  it('does not go onto a detour between the same nodes, nor into the twin of its bore', () => {
    const detour: PlaceDrawing = {
      nodes: { 0: [-100, 0], 1: [0, 0], 2: [300, 0], 3: [400, 0], 7: [0, 400], 8: [300, 400] },
      ways: [
        { id: 10, nodes: [0, 1], tags: bore },
        { id: 11, nodes: [1, 2], tags: bore },
        { id: 12, nodes: [1, 7, 8, 2], tags: bore },
        { id: 13, nodes: [2, 3], tags: bore },
      ],
    };
    const network = build(detour);
    const linkId = '11-1-2' as LinkId;
    const log: Command[] = [
      {
        kind: 'slideBeacon',
        commandId: 's',
        beaconId: `${linkId}.1` as BeaconId,
        to: { linkId, chainageM: 150 },
        anchor: 'chainage',
      },
    ];
    const schemes = [{ ...makeScheme('t10' as never), revision: 1, log, ...replay(log) }];
    const rebuilt = rebuild(network, { ...detour, ways: detour.ways.filter(({ id }) => id !== 11) });
    expect(pinsAfter(network, schemes, rebuilt)).toEqual([]);
    const road = { highway: 'primary', oneway: 'no' };
    const twins: PlaceDrawing = {
      nodes: { 0: [-99, 0], 1: [0, 0], 2: [1000, 0], 3: [500, 12], 4: [1099, 0] },
      ways: [
        { id: 10, nodes: [0, 1], tags: road },
        { id: 11, nodes: [1, 2], tags: oneway },
        { id: 12, nodes: [2, 1], tags: oneway },
        { id: 13, nodes: [2, 4], tags: road },
      ],
    };
    const pair = build(twins);
    const same = rebuild(pair, twins);
    expect(same.pieces.map(({ beforeId, afterId }) => [beforeId, afterId])).toEqual([
      ['11-1-2', '11-1-2'],
      ['12-2-1', '12-2-1'],
    ]);
  });

  it('stays on its turn of a spiral, and on its side of a ring that begins elsewhere', () => {
    const spiral = (scale: number): PlaceDrawing => {
      const turns = Array.from({ length: 49 }, (_, i) => {
        const radiusM = (40 + 0.06 * i) * scale;
        return [radiusM * Math.cos((i * Math.PI) / 8), radiusM * Math.sin((i * Math.PI) / 8)] as const;
      });
      return {
        nodes: Object.fromEntries(turns.map((place, i) => [i + 1, place])),
        ways: [{ id: 11, nodes: turns.map((_, i) => i + 1), tags: bore }],
      };
    };
    const network = build(spiral(1));
    const [spiralled] = pinsAfter(
      network,
      [pin(network, 0, [[400, 'position']])],
      rebuild(network, spiral(1.03)),
    );
    // 400 m along grows with the radius: 400 × 1.03 = 412 m.
    expect(spiralled?.[3]).toBeGreaterThan(405);
    expect(spiralled?.[3]).toBeLessThan(419);

    const ring = (nodes: readonly number[], entry: number): PlaceDrawing => ({
      nodes: { 1: [0, 0], 2: [100, 0], 3: [100, 100], 4: [0, 100], 9: [-80, -80] },
      ways: [
        { id: 11, nodes, tags: bore },
        { id: 12, nodes: [9, entry], tags: bore },
      ],
    });
    const round = build(ring([1, 2, 3, 4, 1], 1));
    const circle = round.links.find(({ id }) => id.startsWith('11-'))?.id as LinkId;
    const log: Command[] = [
      {
        kind: 'slideBeacon',
        commandId: 's',
        beaconId: `${circle}.1` as BeaconId,
        to: { linkId: circle, chainageM: 10 },
        anchor: 'chainage',
      },
    ];
    const schemes = [{ ...makeScheme('t11' as never), revision: 1, log, ...replay(log) }];
    const turned = rebuild(round, ring([2, 3, 4, 1, 2], 2));
    const found = compare(round, schemes, turned).beacons.filter(({ locked }) => locked);
    expect(found).toMatchObject([{ change: 'moved', shiftM: 0 }]);
    expect(found[0]?.to?.chainageM).toBeCloseTo(310, 1);
  });

  it('keeps its chainage where the portal moved out or in, as it was measured from there', () => {
    const long = build(straight);
    const short = rebuild(long, { ...straight, nodes: { 1: [200, 0], 2: [500, 0], 3: [1000, 0] } });
    const schemes = [
      pin(long, 0, [
        [150, 'chainage'],
        [300, 'chainage'],
        [900, 'chainage'],
      ]),
    ];
    expect(pinsAfter(long, schemes, short).map(([, , , atM]) => atM)).toEqual([150, 300, 700]);
    const found = compare(long, schemes, short).beacons.filter(({ locked }) => locked);
    expect(found.map(({ kept, shiftM }) => [kept, shiftM])).toEqual([
      ['chainage', 200],
      ['chainage', 200],
      ['place-instead', 0],
    ]);
  });
});

describe('a tunnel', () => {
  it('does not hand its id and rules on to another one that begins where it ended', () => {
    const old: PlaceDrawing = {
      nodes: { 1: [0, 0], 2: [1000, 0] },
      ways: [{ id: 30, nodes: [1, 2], tags: { ...bore, name: 'Old' } }],
    };
    const network = build(old);
    const newer: PlaceDrawing = {
      nodes: { 5: [990, 20], 6: [2000, 20] },
      ways: [{ id: 50, nodes: [5, 6], tags: { ...bore, name: 'New' } }],
    };
    const rebuilt = rebuild(network, newer);
    expect(rebuilt.network.complexes.map(({ id }) => id)).toEqual(['t50']);
    expect(compare(network, [], rebuilt).complexes.map(({ id, change }) => [id, change])).toEqual([
      ['t30', 'vanished'],
      ['t50', 'appeared'],
    ]);
  });

  it('that is roofed or closed now is said to differ in that, and its beacons to go', () => {
    const network = build(straight);
    const schemes = [pin(network, 0, [[300, 'chainage']])];
    const { tunnel: _, ...road } = bore;
    const covered = [{ id: 11, nodes: [1, 2, 3], tags: { ...road, covered: 'yes' } }];
    const closed = [{ id: 11, nodes: [1, 2, 3], tags: { ...bore, access: 'private' } }];
    for (const [ways, facet] of [
      [covered, 'kind'],
      [closed, 'access'],
    ] as const) {
      const found = compare(network, schemes, rebuild(network, { ...straight, ways }));
      expect(found.complexes).toMatchObject([{ id: 't11', change: 'changed', facets: [facet] }]);
    }
    const found = compare(network, schemes, rebuild(network, { ...straight, ways: covered }));
    expect(found.beacons.filter(({ locked }) => locked)).toMatchObject([{ change: 'removed', kept: 'none' }]);
  });
});

describe('a join by hand', () => {
  it('holds on a newer extract where the way that it names is another one now', () => {
    const two: PlaceDrawing = {
      nodes: { 1: [0, 0], 2: [400, 0], 3: [500, 0], 5: [0, 500], 6: [600, 500] },
      ways: [
        { id: 11, nodes: [1, 2, 3], tags: { ...bore, name: 'Low Bore' } },
        { id: 30, nodes: [5, 6], tags: { ...bore, name: 'High Bore' } },
      ],
    };
    const join: GroupingOverride = { kind: 'join', ways: [11, 30] };
    const network = rebuild(build(two), two, [join]).network;
    expect(network.complexes).toHaveLength(1);
    // The mapper cut way 11: it keeps its number for the part in the open, the tunnel is way 99.
    const ways = [
      { id: 11, nodes: [2, 3], tags: { highway: 'primary' } },
      { id: 99, nodes: [1, 2], tags: { ...bore, name: 'Low Bore' } },
      ...two.ways.slice(1),
    ].sort((a, b) => a.id - b.id);
    const rebuilt = rebuild(network, { ...two, ways }, [join]);
    expect(rebuilt.network.complexes).toHaveLength(1);
    expect(rebuilt.renamedWays).toEqual([[11, 99]]);
    expect(rebuilt.findings.filter(({ code }) => code === 'override-unmatched')).toEqual([]);
  });
});
