import { describe, expect, it } from 'vitest';
import { drawPlace, type PlaceDrawing } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES, type NetworkRules } from './build-network.ts';

const open = { highway: 'primary', lanes: '2', maxspeed: '60' };
const bore = { ...open, tunnel: 'yes' };

function build(drawing: PlaceDrawing) {
  const { value, findings } = buildNetwork(drawPlace(drawing), NETWORK_RULES);
  return { ...value, findings, codes: findings.map((finding) => finding.code) };
}

/** A two-way road from west to east with a tunnel of 500 m in its middle. */
const straight: PlaceDrawing = {
  nodes: { 1: [-400, 0], 2: [-250, 0], 3: [0, 0], 4: [250, 0], 5: [400, 0] },
  ways: [
    { id: 10, nodes: [1, 2], tags: open },
    { id: 11, nodes: [2, 3, 4], tags: bore },
    { id: 12, nodes: [4, 5], tags: open },
  ],
};

describe('a straight two-way tunnel', () => {
  it('is one link between two portals', () => {
    const { links, complexes } = build(straight);
    expect(links).toHaveLength(1);
    expect(links[0]).toMatchObject({
      direction: 'both',
      fromNode: 2,
      toNode: 4,
      lanes: 2,
      assumed: ['width'],
    });
    expect(links[0]?.lengthM).toBeCloseTo(500, 2);
    expect(complexes[0]?.portals.map((p) => [p.osmNode, p.direction])).toEqual([
      [2, 'both'],
      [4, 'both'],
    ]);
    expect(complexes[0]).toMatchObject({ id: 't11', boreCount: 1, diverges: [], merges: [] });
    expect(complexes[0]?.outageS).toBeCloseTo(500 / (60 / 3.6), 2);
  });

  it('stays one link where only tags change, and keeps each way’s stretch', () => {
    const { links } = build({
      nodes: straight.nodes,
      ways: [
        { id: 10, nodes: [1, 2], tags: open },
        { id: 11, nodes: [2, 3], tags: bore },
        // Drawn against its neighbour: still one carriageway.
        { id: 13, nodes: [4, 3], tags: { ...bore, maxspeed: '30 mph', lanes: '3' } },
        { id: 12, nodes: [4, 5], tags: open },
      ],
    });
    expect(links).toHaveLength(1);
    expect(links[0]?.stretches.map((s) => [s.wayId, s.lanes, Math.round(s.toM - s.fromM)])).toEqual([
      [11, 2, 250],
      [13, 3, 250],
    ]);
  });

  it('breaks where one-way traffic begins', () => {
    const { links } = build({
      nodes: straight.nodes,
      ways: [
        { id: 11, nodes: [2, 3], tags: bore },
        { id: 13, nodes: [3, 4], tags: { ...bore, oneway: 'yes' } },
      ],
    });
    expect(links.map((link) => link.direction).sort()).toEqual(['both', 'forward']);
  });
});

describe('one-way bores', () => {
  it.each([
    [{ oneway: 'yes' }, 2, 4],
    [{ oneway: '-1' }, 4, 2],
    [{ highway: 'motorway' }, 2, 4],
  ])('%j run in the direction of travel', (tags, fromNode, toNode) => {
    const all = { ...bore, ...tags };
    const { tunnel: _, ...outside } = all;
    const { links, complexes } = build({
      nodes: straight.nodes,
      ways: [
        { id: 10, nodes: [1, 2], tags: outside },
        { id: 11, nodes: [2, 3, 4], tags: all },
        { id: 12, nodes: [4, 5], tags: outside },
      ],
    });
    expect(links[0]).toMatchObject({ direction: 'forward', fromNode, toNode });
    const portals = Object.fromEntries(complexes[0]?.portals.map((p) => [p.osmNode, p.direction]) ?? []);
    expect(portals).toEqual({ [fromNode]: 'in', [toNode]: 'out' });
  });

  it('flag reversible ones', () => {
    const { links, codes } = build({
      nodes: straight.nodes,
      ways: [{ id: 11, nodes: [2, 3, 4], tags: { ...bore, oneway: 'reversible' } }],
    });
    expect(links[0]?.direction).toBe('reversible');
    expect(codes).toContain('oneway-reversible');
  });
});

/** A one-way trunk bore with a ramp that leaves it underground at node 3. */
const fork: PlaceDrawing = {
  nodes: { 1: [-400, 0], 2: [-250, 0], 3: [0, 0], 4: [250, 0], 5: [400, 0], 6: [200, -60], 7: [300, -120] },
  ways: [
    { id: 10, nodes: [1, 2], tags: { highway: 'trunk', oneway: 'yes' } },
    { id: 11, nodes: [2, 3, 4], tags: { highway: 'trunk', oneway: 'yes', tunnel: 'yes' } },
    { id: 12, nodes: [4, 5], tags: { highway: 'trunk', oneway: 'yes' } },
    {
      id: 13,
      nodes: [3, 6],
      tags: {
        highway: 'trunk_link',
        oneway: 'yes',
        tunnel: 'yes',
        destination: 'Old Quay',
        'junction:ref': '4',
      },
    },
    { id: 14, nodes: [6, 7], tags: { highway: 'trunk_link', oneway: 'yes' } },
  ],
};

describe('a fork underground', () => {
  it('is a diverge with one exit, told by its class', () => {
    const { links, complexes } = build(fork);
    expect(links).toHaveLength(3);
    expect(complexes).toHaveLength(1);
    const [diverge] = complexes[0]?.diverges ?? [];
    expect(diverge).toMatchObject({ osmNode: 3, where: 'underground', inside: true });
    expect(diverge?.branches.filter((branch) => branch.exit)).toMatchObject([
      { wayId: 13, reason: 'class', label: '4 Old Quay' },
    ]);
    expect(diverge?.distanceFromFixM).toBeCloseTo(250, 2);
    expect(complexes[0]?.merges).toEqual([]);
    expect(complexes[0]?.portals.map((p) => p.direction)).toEqual(['in', 'out', 'out']);
  });

  it('is a merge where the traffic runs the other way', () => {
    const mirrored = {
      ...fork,
      ways: fork.ways.map((way) => ({ ...way, nodes: [...way.nodes].reverse() })),
    };
    const { complexes } = build(mirrored);
    expect(complexes[0]?.diverges).toEqual([]);
    expect(complexes[0]?.merges).toMatchObject([{ osmNode: 3, inside: true }]);
  });

  it.each([
    ['no_right_turn', 13, {}, 0],
    ['only_straight_on', 11, {}, 0],
    ['no_right_turn', 13, { except: 'bus;motorcar' }, 1],
  ])('obeys a turn restriction: %s, %o', (restriction, to, more, diverges) => {
    const { complexes } = build({
      ...fork,
      relations: [
        {
          id: 1,
          members: [
            { type: 'way', ref: 11, role: 'from' },
            { type: 'node', ref: 3, role: 'via' },
            { type: 'way', ref: to, role: 'to' },
          ],
          tags: { type: 'restriction', restriction, ...more },
        },
      ],
    });
    expect(complexes[0]?.diverges).toHaveLength(diverges);
  });

  it('is none where ways cross without a shared node', () => {
    const { complexes } = build({
      nodes: { 1: [-100, 0], 2: [100, 0], 3: [0, -100], 4: [0, 100], 5: [0, 0], 6: [0, 0] },
      ways: [
        { id: 11, nodes: [1, 5, 2], tags: bore },
        // Node 6 lies exactly on node 5, one level lower: not the same place on the road.
        { id: 12, nodes: [3, 6, 4], tags: { ...bore, layer: '-2' } },
      ],
    });
    expect(complexes).toHaveLength(2);
    expect(complexes.flatMap((complex) => complex.diverges)).toEqual([]);
  });
});

describe('a roundabout below ground', () => {
  it('makes the leaving roads exits, and ends', () => {
    const ring = { highway: 'primary', junction: 'roundabout', tunnel: 'yes' };
    const { complexes, links } = build({
      nodes: { 1: [-200, 0], 2: [-20, 0], 3: [0, -20], 4: [20, 0], 5: [0, 20], 6: [200, 0], 7: [0, -200] },
      ways: [
        { id: 10, nodes: [2, 3, 4, 5, 2], tags: ring },
        { id: 11, nodes: [1, 2], tags: { ...bore, oneway: 'yes' } },
        { id: 12, nodes: [4, 6], tags: { ...bore, oneway: 'yes' } },
        { id: 13, nodes: [3, 7], tags: { ...bore, oneway: 'yes' } },
      ],
    });
    expect(links).toHaveLength(6);
    const exits = complexes[0]?.diverges.flatMap((d) => d.branches.filter((b) => b.exit).map((b) => b.wayId));
    expect(exits?.sort()).toEqual([12, 13]);
    expect(complexes[0]?.merges.map((merge) => merge.osmNode)).toEqual([2]);
    // In at 1, round to 4, out at 6: no endless lap.
    expect(complexes[0]?.longestRouteM).toBeCloseTo(180 + 28.28 * 2 + 180, 0);
  });
});

describe('routes', () => {
  const ends = (drawing: PlaceDrawing) =>
    build(drawing).complexes.flatMap((complex) =>
      complex.routes.map((route) => [route.entryNode, route.exitNode]),
    );

  it('go both ways through a two-way bore, and into both branches of a fork', () => {
    expect(ends(straight)).toEqual([
      [2, 4],
      [4, 2],
    ]);
    expect(ends(fork)).toEqual([
      [2, 4],
      [2, 6],
    ]);
    const [main, ramp] = build(fork).complexes[0]?.routes ?? [];
    expect(main?.lengthM).toBeCloseTo(500, 2);
    expect(main?.decisionNodes).toEqual([3]);
    expect(ramp?.lengthM).toBeCloseTo(250 + Math.hypot(200, 60), 1);
    // 80 km/h on a trunk road, 50 on its ramp: the defaults by class.
    expect(ramp?.durationS).toBeCloseTo(250 / (80 / 3.6) + Math.hypot(200, 60) / (50 / 3.6), 1);
  });

  it('keep to turn restrictions', () => {
    const members = [
      { type: 'way', ref: 11, role: 'from' },
      { type: 'node', ref: 3, role: 'via' },
      { type: 'way', ref: 13, role: 'to' },
    ] as const;
    const tags = { type: 'restriction', restriction: 'no_right_turn' };
    expect(ends({ ...fork, relations: [{ id: 1, members, tags }] })).toEqual([[2, 4]]);
  });

  it('make no endless laps, and stop listing in a mesh', () => {
    const nodes: Record<number, [number, number]> = {};
    const ways: { id: number; nodes: number[]; tags: Record<string, string> }[] = [];
    const at = (x: number, y: number) => 100 + x * 10 + y;
    for (let x = 0; x < 8; x += 1) {
      for (let y = 0; y < 8; y += 1) nodes[at(x, y)] = [x * 50, y * 50];
      const across = [0, 1, 2, 3, 4, 5, 6, 7];
      ways.push({ id: 500 + x, nodes: across.map((y) => at(x, y)), tags: bore });
      ways.push({ id: 600 + x, nodes: across.map((y) => at(y, x)), tags: bore });
    }
    for (const [id, node, east] of [
      [1, at(0, 0), -50],
      [2, at(7, 7), 450],
    ] as const) {
      nodes[id] = [east, id === 1 ? 0 : 350];
      ways.push({ id: 700 + id, nodes: [id, node], tags: open });
    }
    const { complexes, codes } = build({ nodes, ways });
    expect(complexes[0]?.routes).toHaveLength(500);
    expect(codes).toContain('routes-cut');
  });
});

describe('openings', () => {
  const opening = (gapM: number) =>
    build({
      nodes: { 1: [0, 0], 2: [200, 0], 3: [200 + gapM, 0], 4: [440 + gapM, 0] },
      ways: [
        { id: 11, nodes: [1, 2], tags: { ...bore, name: 'Gull Hill Tunnel', oneway: 'yes' } },
        { id: 12, nodes: [2, 3], tags: { ...open, oneway: 'yes' } },
        { id: 13, nodes: [3, 4], tags: { ...bore, name: 'Gull Hill Tunnel', oneway: 'yes' } },
      ],
    }).complexes[0];

  it('join outages of tunnels that are not one, and take the opening’s own limit', () => {
    const chain = (limit: string) =>
      build({
        nodes: { 1: [0, 0], 2: [200, 0], 3: [260, 0], 4: [500, 0] },
        ways: [
          { id: 11, nodes: [1, 2], tags: { ...bore, name: 'West Hill', oneway: 'yes' } },
          { id: 12, nodes: [2, 3], tags: { ...open, maxspeed: limit, oneway: 'yes' } },
          { id: 13, nodes: [3, 4], tags: { ...bore, name: 'East Hill', oneway: 'yes' } },
        ],
      }).complexes.map((complex) => Math.round(complex.outageS * 100) / 100);
    // 500 m at 60 km/h; both tunnels are passed on the same drive.
    expect(chain('60')).toEqual([30, 30]);
    // 60 m at 30 km/h take 7.2 s: the position has recovered. 200 m and 240 m at 60 km/h.
    expect(chain('30')).toEqual([12, 14.4]);
  });

  it('join outages where they are shorter than the recovery distance: 5 s at 60 km/h are 83 m', () => {
    const short = opening(60);
    expect(short?.openings).toMatchObject([{ fromNode: 2, toNode: 3 }]);
    expect(short?.outageS).toBeCloseTo(500 / (60 / 3.6), 2);
    const long = opening(90);
    expect(long?.openings).toEqual([]);
    expect(long?.outageS).toBeCloseTo(240 / (60 / 3.6), 2);
  });
});

describe('after the portal', () => {
  it('a fork 150 m on is a decision point, a driveway is none', () => {
    const { complexes } = build({
      nodes: {
        ...straight.nodes,
        5: [330, 0],
        6: [400, 0],
        7: [600, 0],
        8: [500, 80],
        9: [330, 40],
      },
      ways: [
        ...straight.ways.slice(0, 2),
        { id: 12, nodes: [4, 5, 6, 7], tags: open },
        { id: 14, nodes: [6, 8], tags: { highway: 'primary_link', destination: 'Hill' } },
        { id: 15, nodes: [5, 9], tags: { highway: 'service', service: 'driveway' } },
      ],
    });
    const [decision, ...more] = complexes[0]?.decisionsAfterPortal ?? [];
    expect(more).toEqual([]);
    expect(decision).toMatchObject({ osmNode: 6, where: 'after portal', portalNode: 4 });
    expect(decision?.distanceFromPortalM).toBeCloseTo(150, 2);
    expect(decision?.distanceFromFixM).toBeCloseTo(650, 2);
    expect(decision?.reachShare).toBe(1);
  });

  it('are reached by fewer drivers after each choice in the open air', () => {
    const road = { highway: 'primary', oneway: 'yes', maxspeed: '100' };
    const { complexes } = build({
      nodes: {
        1: [0, 0],
        2: [500, 0],
        3: [600, 0],
        4: [700, 0],
        5: [800, 0],
        6: [600, 100],
        7: [700, 100],
        8: [800, 100],
        9: [700, 200],
      },
      ways: [
        { id: 11, nodes: [1, 2], tags: { ...bore, oneway: 'yes', maxspeed: '100' } },
        { id: 12, nodes: [2, 3, 4, 5], tags: road },
        { id: 13, nodes: [3, 6], tags: road },
        { id: 14, nodes: [4, 7], tags: road },
        { id: 15, nodes: [4, 9], tags: road },
        { id: 16, nodes: [5, 8], tags: road },
        { id: 17, nodes: [5, 9], tags: road },
      ],
    });
    const reached = complexes[0]?.decisionsAfterPortal.map(({ osmNode, reachShare }) => [
      osmNode,
      reachShare,
    ]);
    // Two ways to go at 3; three at 4: straight on and two aside; half of all, and a third of these.
    expect(reached).toEqual([
      [3, 1],
      [4, 1 / 2],
      [5, 1 / 6],
    ]);
  });
});

describe('complexes', () => {
  const twin = (gapM: number, tags: Record<string, string>, other = tags) => ({
    nodes: { 1: [0, 0], 2: [400, 0], 3: [400, gapM], 4: [0, gapM] } as const,
    ways: [
      { id: 11, nodes: [1, 2], tags: { ...bore, oneway: 'yes', ...tags } },
      { id: 12, nodes: [3, 4], tags: { ...bore, oneway: 'yes', ...other } },
    ],
  });

  it('join unnamed twin bores of opposite direction, and say why', () => {
    const { complexes, codes } = build(twin(30, {}));
    expect(complexes).toHaveLength(1);
    expect(complexes[0]?.boreCount).toBe(2);
    expect(complexes[0]?.grouping).toMatchObject([{ reason: 'twin-bore' }]);
    expect(codes).toContain('complex-grouped');
  });

  it('leave apart what only follows the other, and measure how far they run side by side', () => {
    const shifted = (byM: number) =>
      build({
        nodes: { 1: [0, 0], 2: [500, 0], 3: [500 + byM, 20], 4: [byM, 20] },
        ways: [
          { id: 11, nodes: [1, 2], tags: { ...bore, oneway: 'yes' } },
          { id: 12, nodes: [3, 4], tags: { ...bore, oneway: 'yes' } },
        ],
      }).complexes;
    expect(shifted(100)[0]?.grouping[0]?.detail).toBe('opposite bores 20 m apart over 400 m');
    expect(shifted(505)).toHaveLength(2);
  });

  it('leave apart what is too far, differs in name or in class', () => {
    expect(build(twin(80, {})).complexes).toHaveLength(2);
    expect(build(twin(30, { name: 'North Bore' }, { name: 'South Bore' })).complexes).toHaveLength(2);
    expect(build(twin(30, {}, { highway: 'tertiary' })).complexes).toHaveLength(2);
  });

  it('join one name over an opening of 60 m, and a tunnel relation over any distance', () => {
    const opening: PlaceDrawing = {
      nodes: { 1: [0, 0], 2: [200, 0], 3: [260, 0], 4: [500, 0] },
      ways: [
        { id: 11, nodes: [1, 2], tags: { ...bore, 'tunnel:name': 'Gull Hill Tunnel' } },
        { id: 12, nodes: [2, 3], tags: open },
        { id: 13, nodes: [3, 4], tags: { ...bore, 'tunnel:name': 'Gull Hill Tunnel' } },
      ],
    };
    expect(build(opening).complexes[0]?.grouping[0]).toMatchObject({ reason: 'same-name' });
    const far: PlaceDrawing = {
      nodes: { 1: [0, 0], 2: [200, 0], 3: [2000, 0], 4: [2200, 0] },
      ways: [
        { id: 11, nodes: [1, 2], tags: bore },
        { id: 13, nodes: [3, 4], tags: bore },
      ],
      relations: [
        {
          id: 7,
          members: [11, 13].map((ref) => ({ type: 'way', ref, role: 'through' }) as const),
          tags: { type: 'tunnel' },
        },
      ],
    };
    expect(build(far).complexes).toHaveLength(1);
    expect(build({ ...far, relations: [] }).complexes).toHaveLength(2);
  });
});

describe('what people say about the grouping', () => {
  const apart: PlaceDrawing = {
    nodes: { 1: [0, 0], 2: [200, 0], 3: [230, 0], 4: [500, 0], 5: [530, 0], 6: [700, 0] },
    ways: [
      { id: 11, nodes: [1, 2], tags: { ...bore, name: 'Gull Hill' } },
      { id: 13, nodes: [3, 4], tags: { ...bore, name: 'Gull Hill' } },
      { id: 15, nodes: [5, 6], tags: { ...bore, name: 'Other' } },
    ],
  };
  const groups = (overrides: NetworkRules['overrides'], drawing = apart) =>
    buildNetwork(drawPlace(drawing), {
      ...NETWORK_RULES,
      ...(overrides ? { overrides } : {}),
    }).value.complexes.map((complex) => complex.osmWays);

  it('splits what a name joined, joins what nothing joined, and holds where a way was cut in two', () => {
    expect(groups(undefined)).toEqual([[11, 13], [15]]);
    expect(groups([{ kind: 'split', ways: [11, 13] }])).toEqual([[11], [13], [15]]);
    expect(groups([{ kind: 'join', ways: [13, 15] }])).toEqual([[11, 13, 15]]);
    // Joined by hand to one side: the other side stays away all the same.
    expect(
      groups([
        { kind: 'split', ways: [11, 13] },
        { kind: 'join', ways: [13, 15] },
      ]),
    ).toEqual([[11], [13, 15]]);
    const cut = {
      nodes: { ...apart.nodes, 7: [100, 0] as const },
      ways: [
        { id: 11, nodes: [1, 7], tags: { ...bore, name: 'Gull Hill' } },
        { id: 99, nodes: [7, 2], tags: { ...bore, name: 'Gull Hill' } },
        ...apart.ways.slice(1),
      ],
    };
    expect(groups([{ kind: 'split', ways: [11, 13] }], cut)).toEqual([[11, 99], [13], [15]]);
  });

  it('reports a way that is gone', () => {
    const overrides = [{ kind: 'join', ways: [11, 404] }] as const;
    const { findings } = buildNetwork(drawPlace(apart), { ...NETWORK_RULES, overrides });
    expect(findings.filter((f) => f.code === 'override-unmatched').map((f) => f.subject.id)).toEqual(['404']);
  });
});

describe('what is left out or cut', () => {
  it('leaves a finding each', () => {
    const { complexes, findings } = build({
      nodes: { 1: [0, 0], 2: [100, 0], 3: [0, 500], 4: [100, 500] },
      ways: [
        { id: 11, nodes: [1, 2], tags: { ...bore, maxspeed: 'fast', lanes: '', width: '?' } },
        { id: 12, nodes: [3, 4, 99], tags: bore },
        { id: 13, nodes: [1, 2], tags: { highway: 'footway', tunnel: 'yes' } },
        { id: 14, nodes: [1, 2], tags: { highway: 'service', tunnel: 'building_passage' } },
        { id: 15, nodes: [1, 2], tags: { highway: 'construction', tunnel: 'yes' } },
        { id: 16, nodes: [1, 1], tags: bore },
        { id: 17, nodes: [1, 2], tags: { highway: 'service', area: 'yes', tunnel: 'yes' } },
      ],
    });
    const byCode = (code: string) => findings.filter((f) => f.code === code).map((f) => f.subject.id);
    expect(byCode('maxspeed-unreadable')).toEqual(['11']);
    expect(byCode('lanes-unreadable')).toEqual(['11']);
    expect(byCode('width-unreadable')).toEqual(['11']);
    expect(byCode('way-nodes-missing')).toEqual(['12']);
    expect(byCode('way-not-drivable')).toEqual(['13']);
    expect(byCode('way-tunnel-value')).toEqual(['14']);
    expect(byCode('way-not-in-use')).toEqual(['15']);
    expect(byCode('way-too-short')).toEqual(['16']);
    expect(byCode('way-area')).toEqual(['17']);
    expect(byCode('portal-extract-edge')).toEqual(['4']);
    expect(byCode('portal-dead-end')).toEqual(['3']);
    expect(complexes.find((c) => c.id === 't12')?.portals.map((p) => p.edgeOfExtract)).toEqual([false, true]);
  });

  it('keeps galleries and covered roads as their own kind', () => {
    const { complexes } = build({
      nodes: straight.nodes,
      ways: [
        { id: 10, nodes: [1, 2], tags: { ...open, tunnel: 'avalanche_protector' } },
        { id: 11, nodes: [2, 3, 4], tags: bore },
        { id: 12, nodes: [4, 5], tags: { ...open, covered: 'yes' } },
      ],
    });
    expect(complexes.map((c) => c.kind).sort()).toEqual(['covered', 'gallery', 'tunnel']);
    expect(complexes.find((c) => c.kind === 'tunnel')?.portals).toHaveLength(2);
  });
});

describe('features along the bore', () => {
  it('carry link, chainage and side; what is too far does not belong', () => {
    const extract = drawPlace({
      ...straight,
      nodes: { ...straight.nodes, 21: [-100, 6], 22: [50, -8], 23: [60, 40], 24: [0, 0] },
    });
    const tags: Record<number, Record<string, string>> = {
      21: { emergency: 'phone', ref: 'P3' },
      22: { entrance: 'emergency' },
      23: { emergency: 'phone' },
      3: { highway: 'emergency_bay' },
    };
    const tagged = extract.nodes.map((node) =>
      tags[node.id] ? { ...node, tags: tags[node.id] as Record<string, string> } : node,
    );
    const [complex] = buildNetwork({ ...extract, nodes: tagged }, NETWORK_RULES).value.complexes;
    const found = complex?.features.map(({ kind, osm, chainageM, offsetM, label }) => [
      kind,
      osm.id,
      Math.round(chainageM),
      Math.round(offsetM),
      label,
    ]);
    // Chainage runs east from the portal at −250 m; north is to the left.
    expect(found).toEqual([
      ['emergency phone', 21, 150, -6, 'P3'],
      ['lay-by', 3, 250, 0, undefined],
      ['emergency exit', 22, 300, 8, undefined],
    ]);
  });
});

describe('the order of the input', () => {
  it('does not matter', () => {
    const extract = drawPlace(fork);
    const shuffled = { ...extract, ways: [...extract.ways].reverse(), nodes: [...extract.nodes].reverse() };
    expect(buildNetwork(shuffled, NETWORK_RULES)).toEqual(buildNetwork(extract, NETWORK_RULES));
  });
});
