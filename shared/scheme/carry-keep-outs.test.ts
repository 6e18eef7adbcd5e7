import { describe, expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import type { GroupingOverride } from '../network/group-links.ts';
import type { LinkId, TunnelNetwork } from '../network/network.ts';
import { buildSurvey } from '../pipeline/build-survey.ts';
import { compareSurveys } from '../pipeline/compare-surveys.ts';
import { rebuildSurvey } from '../pipeline/rebuild-survey.ts';
import type { BeaconId, Pin } from '../placement/beacon.ts';
import type { KeepOut } from '../placement/keep-out.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { replay } from './apply-command.ts';
import { carrySchemes } from './carry-schemes.ts';
import { type Command, makeScheme, type Scheme } from './scheme.ts';

const bore = { highway: 'primary', tunnel: 'yes', maxspeed: '50', lanes: '2' };
/** 1,000 m due east, drawn with a node in the middle. */
const straight: PlaceDrawing = {
  nodes: { 1: [0, 0], 2: [500, 0], 3: [1000, 0] },
  ways: [{ id: 11, nodes: [1, 2, 3], tags: bore }],
};

function build(drawing: PlaceDrawing): TunnelNetwork {
  const base = buildSurvey(drawPlace(drawing), 'place');
  if (!base.ok) throw new Error(base.refusal.code);
  return base.value.network;
}

type Stretch = readonly [fromM: number, toM: number, wall: KeepOut['wall']];

/** A scheme of a tunnel with keep-outs on its first link, called `niche-1`, `niche-2` … unless named. */
function keepOut(
  network: TunnelNetwork,
  stretches: readonly Stretch[],
  { index = 0, ids = [] as readonly string[] } = {},
): Scheme {
  const complex = network.complexes[index];
  if (complex === undefined) throw new Error('no such tunnel');
  const linkId = complex.linkIds[0] as LinkId;
  const log = stretches.map(([fromM, toM, wall], i): Command => {
    const id = ids[i] ?? `niche-${i + 1}`;
    const added = { id, linkId, fromM, toM, wall, reason: 'niche' };
    return { kind: 'addKeepOut', commandId: `add-${complex.id}-${id}`, keepOut: added };
  });
  return { ...makeScheme(complex.id), revision: log.length, log, ...replay(log) };
}

function carry(
  before: TunnelNetwork,
  drawing: PlaceDrawing,
  schemes: readonly Scheme[],
  overrides: readonly GroupingOverride[] = [],
) {
  const rebuilt = rebuildSurvey(before, drawPlace(drawing), 'newer', overrides);
  if (!rebuilt.ok) throw new Error(rebuilt.refusal.code);
  const { network, pieces } = rebuilt.value;
  const carried = carrySchemes(before, network, pieces, schemes, 'adopt-1');
  const links = new Map(network.links.map((link) => [link.id, link]));
  const compared = compareSurveys({ network: before, schemes, rules: DEFAULT_RULES }, rebuilt.value);
  return {
    carried,
    network,
    pieces,
    notes: compared.notes,
    /** Each keep-out of a tunnel: its id, the nodes that its link runs between, its ends and its wall. */
    list: (complexId: string) =>
      carried.schemes
        .find((scheme) => scheme.complexId === complexId)
        ?.keepOuts.map(({ id, linkId, fromM, toM, wall }) => {
          const link = links.get(linkId);
          return [id, `${link?.fromNode}-${link?.toNode}`, fromM, toM, wall];
        }),
  };
}

describe('keep-outs on a newer extract', () => {
  it('of the same map stay in a scheme that is left untouched', () => {
    const network = build(straight);
    const scheme = keepOut(network, [[100, 104, 'right']]);
    const { carried, notes } = carry(network, straight, [scheme]);
    expect(carried.schemes).toEqual([scheme]);
    expect([carried.keepOuts, notes]).toEqual([[], []]);
  });

  it('are cut where their link was cut, and the parts numbered', () => {
    const network = build(straight);
    const scheme = keepOut(network, [
      [100, 104, 'left'],
      [490, 520, 'right'],
      [700, 710, 'both'],
    ]);
    // A ramp leaves in the middle: links 1-2 and 2-3 where one ran from 1 to 3.
    const forked: PlaceDrawing = {
      nodes: { ...straight.nodes, 4: [800, -80] },
      ways: [...straight.ways, { id: 20, nodes: [2, 4], tags: { ...bore, highway: 'primary_link' } }],
    };
    const { list, notes } = carry(network, forked, [scheme]);
    expect(list('t11')).toEqual([
      ['niche-1', '1-2', 100, 104, 'left'],
      ['niche-2', '1-2', 490, 500, 'right'],
      ['niche-2.2', '2-3', 0, 20, 'right'],
      ['niche-3', '2-3', 200, 210, 'both'],
    ]);
    expect(notes).toEqual([
      {
        code: 'keep-outs-changed',
        complexId: 't11',
        detail: 't11: 2 keep-outs keep their places under other chainages.',
      },
    ]);
  });

  it('become one line again where the ramp goes, each part under its own name', () => {
    const forked: PlaceDrawing = {
      nodes: { ...straight.nodes, 4: [800, -80] },
      ways: [...straight.ways, { id: 20, nodes: [2, 4], tags: { ...bore, highway: 'primary_link' } }],
    };
    const network = build(straight);
    const there = carry(network, forked, [keepOut(network, [[490, 520, 'right']])]);
    const back = carry(there.network, straight, there.carried.schemes);
    expect(back.list('t11')).toEqual([
      ['niche-1', '1-3', 490, 500, 'right'],
      ['niche-1.2', '1-3', 500, 520, 'right'],
    ]);
    // And cut once more: the name that is taken is passed over.
    const wide = { ...(back.carried.schemes[0] as Scheme) };
    const both: Scheme = {
      ...wide,
      keepOuts: wide.keepOuts.map((one) => ({ ...one, fromM: 480, toM: 520 })),
    };
    expect(
      carry(back.network, forked, [both])
        .list('t11')
        ?.map(([id]) => id),
    ).toEqual(['niche-1', 'niche-1.2', 'niche-1.3', 'niche-1.4']);
  });

  it('change their ends and their wall where the way is drawn the other way round; pins their wall, too', () => {
    const network = build(straight);
    const scheme = keepOut(network, [
      [100, 104, 'left'],
      [200, 230, 'right'],
      [300, 310, 'both'],
    ]);
    const linkId = network.links[0]?.id as LinkId;
    const pinned: Pin[] = [
      {
        id: `${linkId}.2` as BeaconId,
        at: { linkId, chainageM: 80 },
        anchor: 'chainage',
        wall: 'right',
        radiusM: 25,
      },
      { id: `${linkId}.3` as BeaconId, at: { linkId, chainageM: 120 }, anchor: 'position', wall: 'left' },
      { id: `${linkId}.4` as BeaconId, at: { linkId, chainageM: 160 }, anchor: 'chainage' },
    ];
    const ways = [{ id: 11, nodes: [3, 2, 1], tags: bore }];
    const { list, carried, notes } = carry(network, { ...straight, ways }, [{ ...scheme, pinned }]);
    expect(list('t11')).toEqual([
      ['niche-1', '3-1', 896, 900, 'right'],
      ['niche-2', '3-1', 770, 800, 'left'],
      ['niche-3', '3-1', 690, 700, 'both'],
    ]);
    const [first, second, third] = carried.schemes[0]?.pinned ?? [];
    expect(first).toMatchObject({ wall: 'left', radiusM: 25 });
    expect(first?.at.chainageM).toBeCloseTo(920, 6);
    expect(second).toMatchObject({ wall: 'right' });
    expect(second?.at.chainageM).toBeCloseTo(880, 6);
    // Without a wall of its own the rules go on to name it.
    expect(third).not.toHaveProperty('wall');
    expect(notes).toMatchObject([{ detail: 't11: 3 keep-outs keep their places under other chainages.' }]);
  });

  it('keep the place that is opposite on a bore drawn anew with a bend', () => {
    const network = build(straight);
    const scheme = keepOut(network, [[300, 320, 'left']]);
    const nodes = { ...straight.nodes, 2: [500, 30] as const };
    const [carriedOut] = carry(network, { ...straight, nodes }, [scheme]).list('t11') ?? [];
    // The feet of the perpendiculars from 300 and 320 m: × cos(atan(30/500)) = 0.998205.
    expect(carriedOut?.[2]).toBeCloseTo(299.461, 1);
    expect(carriedOut?.[3]).toBeCloseTo(319.426, 1);
  });

  it('are cut short or dropped, and said to be so, where a part of the bore is gone', () => {
    const network = build(straight);
    const scheme = keepOut(network, [
      [100, 104, 'left'],
      [450, 540, 'right'],
      [700, 710, 'both'],
    ]);
    const ways = [
      { id: 11, nodes: [1, 2], tags: bore },
      { id: 12, nodes: [2, 3], tags: { highway: 'primary' } },
    ];
    const { list, carried, notes } = carry(network, { ...straight, ways }, [scheme]);
    expect(list('t11')).toEqual([
      ['niche-1', '1-2', 100, 104, 'left'],
      ['niche-2', '1-2', 450, 500, 'right'],
    ]);
    expect(carried.keepOuts.map(({ lostM }) => Math.round(lostM))).toEqual([0, 40, 10]);
    expect(notes.map(({ detail }) => detail)).toEqual([
      't11: 1 keep-out is cut short where its bore is gone, 1 keep-out is dropped: its bore is gone.',
    ]);
  });

  it('of a tunnel that vanishes are said to be dropped', () => {
    const two: PlaceDrawing = {
      nodes: { ...straight.nodes, 7: [0, 3000], 8: [600, 3000] },
      ways: [...straight.ways, { id: 30, nodes: [7, 8], tags: { ...bore, name: 'Far Bore' } }],
    };
    const network = build(two);
    const { notes } = carry(network, straight, [keepOut(network, [[10, 20, 'left']], { index: 1 })]);
    expect(notes).toEqual([
      {
        code: 'keep-outs-changed',
        complexId: 't30',
        detail: 'Far Bore: 1 keep-out is dropped: its bore is gone.',
      },
    ]);
  });
});

describe('keep-outs of bores that are joined by hand', () => {
  const two: PlaceDrawing = {
    nodes: { 1: [0, 0], 2: [400, 0], 5: [0, 500], 6: [600, 500] },
    ways: [
      { id: 11, nodes: [1, 2], tags: { ...bore, name: 'Low Bore' } },
      { id: 30, nodes: [5, 6], tags: { ...bore, name: 'High Bore' } },
    ],
  };
  const network = build(two);
  const low = keepOut(network, [[100, 104, 'left']]);
  const high = keepOut(network, [[200, 204, 'right']], { index: 1 });

  it('come together under names of their own, and part again', () => {
    const joined = carry(network, two, [low, high], [{ kind: 'join', ways: [11, 30] }]);
    expect(joined.list('t11')).toEqual([
      ['niche-1', '1-2', 100, 104, 'left'],
      ['niche-1.2', '5-6', 200, 204, 'right'],
    ]);
    const apart = carry(joined.network, two, joined.carried.schemes);
    expect([apart.list('t11'), apart.list('t30')]).toEqual([
      [['niche-1', '1-2', 100, 104, 'left']],
      [['niche-1.2', '5-6', 200, 204, 'right']],
    ]);
  });

  it('do not depend on the order of the schemes', () => {
    const join = [{ kind: 'join', ways: [11, 30] } as const];
    const [a, b] = [carry(network, two, [low, high], join), carry(network, two, [high, low], join)];
    expect(b.carried.schemes).toEqual(a.carried.schemes);
  });
});
