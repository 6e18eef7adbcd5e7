import { describe, expect, it } from 'vitest';
import {
  bores,
  chain,
  countBy,
  crosses,
  distanceM,
  inverse,
  nodes,
  relations,
  segmentsOf,
  ways,
} from './measure-plain.ts';

describe('the tunnels', () => {
  it('are about thirty, with names of their own', () => {
    const names = new Set(bores.map((w) => w.tags['tunnel:name']));
    names.delete(undefined);
    expect(names.size).toBeGreaterThanOrEqual(22);
  });

  it('have no segment of 120 m or more', () => {
    for (const way of bores) {
      for (const [a, b] of segmentsOf(way)) expect(distanceM(a, b)).toBeLessThan(120);
    }
  });

  it('cross the harbour in two bores of 2.5 to 2.7 km, one of them one-way only by its class', () => {
    const crossing = bores.filter((w) => w.tags['tunnel:name'] === 'Aldermouth Harbour Tunnel');
    const tagged = crossing.filter((w) => w.tags.oneway === 'yes');
    const implied = crossing.filter((w) => w.tags.oneway === undefined);
    expect(tagged.length + implied.length).toBe(crossing.length);
    for (const bore of [tagged, implied]) {
      expect(bore.length).toBeGreaterThan(1);
      expect(chain(bore).lengthM).toBeGreaterThan(2500);
      expect(chain(bore).lengthM).toBeLessThan(2700);
    }
  });

  it('let the exit to Holmside leave 150 m after the portal', () => {
    const westbound = bores.filter(
      (w) => w.tags['tunnel:name'] === 'Aldermouth Harbour Tunnel' && w.tags.oneway === undefined,
    );
    const portal = chain(westbound).last;
    const open = ways.find((w) => w.tags.highway === 'motorway' && w.nodes[0] === portal)!;
    const at = open.nodes.findIndex((n) => nodes.get(n)!.tags.highway === 'motorway_junction');
    const leaving = ways.find((w) => w.tags.highway === 'motorway_link' && w.nodes[0] === open.nodes[at])!;
    expect(leaving.tags.destination).toContain('Holmside');
    const metres = segmentsOf({ ...open, nodes: open.nodes.slice(0, at + 1) }).reduce(
      (s, [a, b]) => s + distanceM(a, b),
      0,
    );
    expect(Math.abs(metres - 150)).toBeLessThan(5);
  });

  it('leave an opening of 60 m between the two Tolland Tunnels', () => {
    const [south, north] = bores.filter((w) => w.tags['tunnel:name'] === 'Tolland Tunnel');
    const open = ways.find((w) => w.nodes[0] === south!.nodes.at(-1) && w.nodes.at(-1) === north!.nodes[0])!;
    expect(chain([open]).lengthM).toBeCloseTo(60, 0);
  });

  it.each([
    ['Wrenlow Tunnel', 900],
    ['Corkscrew Tunnel', 783],
    ['Gannet Head Tunnel', 640],
  ])('%s is %d m long', (name, metres) => {
    const bore = bores.filter((w) => w.tags['tunnel:name'] === name);
    expect(Math.abs(chain(bore).lengthM - metres)).toBeLessThan(2);
  });

  it('are no bridges, and the underpass of 60 m goes below the railway', () => {
    expect(bores.filter((w) => w.tags.bridge !== undefined)).toEqual([]);
    const short = bores.filter((w) => w.tags.name === 'Ridge Road' && w.tags['tunnel:name'] === undefined);
    expect(chain(short).lengthM).toBeCloseTo(60, 0);
    const rails = ways.filter((w) => w.tags.railway === 'rail').flatMap(segmentsOf);
    const below = short
      .flatMap(segmentsOf)
      .filter(([a, b]) => rails.some(([c, d]) => crosses({ a, b }, { a: c, b: d })));
    expect(below).toHaveLength(1);
  });

  it('turn once round in the Corkscrew', () => {
    const line = bores.filter((w) => w.tags['tunnel:name'] === 'Corkscrew Tunnel').flatMap(segmentsOf);
    const bearings = line.map(([a, b]) => inverse(a, b).azi1!);
    const turn = bearings.slice(1).reduce((sum, b, i) => sum + ((b - bearings[i]! + 540) % 360) - 180, 0);
    expect(Math.abs(turn)).toBeGreaterThan(360);
    expect(new Set(line.map(([a]) => a)).size).toBe(line.length);
  });
});

describe('Kell Hill Interchange', () => {
  const inside = bores.filter((w) => w.tags['tunnel:name'] === 'Kell Hill Interchange');
  const arriving = countBy(inside.flatMap((w) => w.nodes.slice(1)));
  const leaving = countBy(inside.flatMap((w) => w.nodes.slice(0, -1)));
  const all = [...new Set(inside.flatMap((w) => w.nodes))];
  const having = (a: number, l: number) =>
    all.filter((n) => (arriving.get(n) ?? 0) === a && (leaving.get(n) ?? 0) === l);

  it('has 4 entries, 5 exits, 3 merges and 4 diverges', () => {
    expect(having(0, 1)).toHaveLength(4);
    expect(having(1, 0)).toHaveLength(5);
    expect(having(2, 1)).toHaveLength(3);
    expect(having(1, 2)).toHaveLength(4);
  });

  it('lets nobody turn at the crossing of two ramps', () => {
    const [signals, ...more] = having(2, 2);
    expect(more).toHaveLength(0);
    const rules = relations.filter((r) => r.members.some((m) => m.role === 'via' && m.ref === signals));
    expect(rules.map((r) => r.tags.restriction).sort()).toEqual(['no_left_turn', 'only_straight_on']);
    expect(rules.find((r) => r.tags.restriction === 'no_left_turn')!.tags.except).toBe('psv');
    expect(new Set(rules.map((r) => r.members.find((m) => m.role === 'from')!.ref)).size).toBe(2);
    expect(new Set(rules.map((r) => r.members.find((m) => m.role === 'to')!.ref)).size).toBe(1);
  });

  it('mixes classes and layers', () => {
    expect([...new Set(inside.map((w) => w.tags.layer))].sort()).toEqual(['-1', '-2', '-3']);
    const classes = new Set(inside.map((w) => w.tags.highway));
    for (const c of ['trunk', 'trunk_link', 'primary', 'secondary_link']) expect(classes.has(c)).toBe(true);
  });

  it('stacks ramps on different layers, and never crosses on one', () => {
    const list = inside.flatMap((way) => way.nodes.slice(1).map((b, i) => ({ way, a: way.nodes[i]!, b })));
    const crossed = list.flatMap((s, i) =>
      list
        .slice(i + 1)
        .filter((t) => ![s.a, s.b].some((n) => n === t.a || n === t.b) && crosses(s, t))
        .map((t) => [s, t]),
    );
    expect(crossed.length).toBeGreaterThanOrEqual(8);
    for (const [s, t] of crossed) expect(s!.way.tags.layer).not.toBe(t!.way.tags.layer);
  });
});
