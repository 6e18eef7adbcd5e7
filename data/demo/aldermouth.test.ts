import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildAldermouth } from './aldermouth.ts';
import { area, bores, holds, ids, nodes, relations, ways, xml } from './measure-plain.ts';
import { fillReadme } from './readme/fill-readme.ts';

const readme = readFileSync(new URL('./README.md', import.meta.url), 'utf8');
const edge = ways.filter((w) => w.tags.name === 'Skerrow Fixed Link');

describe('the file', () => {
  it('is what the generator makes, byte for byte, and so are the tables of the README', () => {
    const { osm, tables } = buildAldermouth();
    expect(osm === xml).toBe(true);
    expect(fillReadme(readme, tables)).toBe(readme);
  });

  it('is at most 2.5 MB and says who made it', () => {
    expect(xml.length).toBeLessThan(2.5e6);
    expect(xml).toContain('<osm version="0.6" generator="boremark demo" timestamp="');
    expect(xml).toMatch(
      /<bounds minlat="45\.9\d+" minlon="-20\.0\d+" maxlat="46\.0\d+" maxlon="-19\.9\d+"\/>/,
    );
  });

  it('uses each id once and is sorted', () => {
    for (const list of Object.values(ids)) expect(list).toEqual([...new Set(list)].sort((a, b) => a - b));
    expect(ids.node.length).toBe(nodes.size);
  });

  it('holds every node that a way names, but for the road that leaves the extract', () => {
    const open = ways.filter((w) => w.nodes.some((n) => !nodes.has(n)));
    expect(open.map((w) => w.id)).toEqual([edge.at(-1)!.id]);
    expect(open[0]!.tags.tunnel).toBe('yes');
    expect(new Set(open.flatMap((w) => w.nodes.filter((n) => !nodes.has(n)))).size).toBe(5);
  });

  it('holds every member that a relation names', () => {
    const held = { node: new Set(ids.node), way: new Set(ids.way) };
    for (const m of relations.flatMap((r) => r.members))
      expect(held[m.type as 'node' | 'way'].has(m.ref)).toBe(true);
  });

  it('has no way that stands still', () => {
    for (const way of ways) {
      expect(way.nodes.length).toBeGreaterThan(1);
      way.nodes.forEach((n, i) => {
        if (i === 0) return;
        const [a, b] = [nodes.get(way.nodes[i - 1]!), nodes.get(n)];
        if (a !== undefined && b !== undefined) expect([a.lon, a.lat]).not.toEqual([b.lon, b.lat]);
      });
    }
  });
});

describe('the traps', () => {
  it.each([
    ['tunnel=no'],
    ['tunnel=false'],
    ['tunnel=0'],
    ['tunnel=culvert'],
    ['tunnel=building_passage'],
    ['tunnel=passage'],
    ['tunnel=avalanche_protector'],
    ['covered=yes'],
    ['lanes=2;3'],
    ['width=7.5 m'],
    ['maxspeed=30 mph'],
    ['maxspeed=walk'],
    ['maxspeed=none'],
    ['maxspeed=DE:urban'],
    ['maxspeed=as posted'],
    ['oneway=no'],
    ['oneway=reversible'],
    ['junction=circular'],
  ])('%s stands on a road', (pair) => {
    const [key, value] = pair.split('=') as [string, string];
    expect(ways.filter((w) => w.tags.highway !== undefined && w.tags[key] === value).length).toBeGreaterThan(
      0,
    );
  });

  it.each([
    ['oneway=-1'],
    ['oneway=1'],
    ['oneway=true'],
    ['oneway=yes'],
    ['highway=construction'],
    ['highway=proposed'],
    ['highway=abandoned'],
    ['highway=footway'],
    ['highway=cycleway'],
    ['service=parking_aisle'],
    ['service=driveway'],
    ['access=private'],
    ['access=no'],
    ['junction=roundabout'],
  ])('%s stands on a tunnel', (pair) => {
    const [key, value] = pair.split('=') as [string, string];
    expect(bores.filter((w) => w.tags[key] === value).length).toBeGreaterThan(0);
  });

  it('has a rail tunnel and an area below ground', () => {
    expect(ways.some((w) => w.tags.railway === 'rail' && w.tags.tunnel === 'yes')).toBe(true);
    expect(ways.some((w) => w.tags.area === 'yes' && w.tags.tunnel === 'yes')).toBe(true);
  });

  it('cuts one bore into many ways, some without lanes or maxspeed, one drawn the other way', () => {
    const fold = bores.filter((w) => w.tags['tunnel:name'] === 'Fold Hill Tunnel');
    expect(fold).toHaveLength(11);
    expect(fold.filter((w) => w.tags.lanes === undefined)).toHaveLength(2);
    expect(fold.filter((w) => w.tags.maxspeed === undefined)).toHaveLength(2);
    expect(fold.at(-1)!.nodes.at(-1)).toBe(fold.at(-2)!.nodes.at(-1));
  });

  it('has a dead end below ground', () => {
    const adit = bores.find((w) => w.tags['tunnel:name'] === 'Slate Adit')!;
    expect(ways.filter((w) => w.nodes.includes(adit.nodes.at(-1)!))).toHaveLength(1);
  });

  it('joins two bores without a common node by a relation', () => {
    const tunnel = relations.find((r) => r.tags.type === 'tunnel')!;
    const [a, b] = tunnel.members.map((m) => bores.find((w) => w.id === m.ref)!);
    expect(a!.nodes.some((n) => b!.nodes.includes(n))).toBe(false);
    expect(a!.tags['tunnel:name']).not.toBe(b!.tags['tunnel:name']);
    expect(a!.tags.ref ?? b!.tags.ref).toBeUndefined();
  });

  it('has a twin pair without name and ref', () => {
    const bare = bores.filter((w) => w.tags.highway === 'trunk' && (w.tags.name ?? w.tags.ref) === undefined);
    expect(bare).toHaveLength(2);
  });

  it('maps phones, extinguishers, emergency exits and lay-bys', () => {
    const count = (key: string, value: string) =>
      [...nodes.values()].filter((n) => n.tags[key] === value).length;
    expect(count('emergency', 'phone')).toBeGreaterThan(20);
    expect(count('emergency', 'fire_extinguisher')).toBeGreaterThan(20);
    expect(count('entrance', 'emergency')).toBeGreaterThan(3);
    expect(count('emergency', 'exit')).toBeGreaterThan(3);
    expect(count('highway', 'emergency_bay')).toBe(4);
  });
});

describe('the ground', () => {
  it('keeps open roads out of the sea and the river', () => {
    const coast = ways.find((w) => w.tags.natural === 'coastline' && w.tags.place === undefined)!;
    const river = ways.find((w) => w.tags.natural === 'water')!;
    expect(area(coast)).toBeGreaterThan(0);
    const wet = ways
      .filter((w) => w.tags.highway !== undefined && w.tags.bridge === undefined && w.tags.tunnel !== 'yes')
      .filter((w) => w.nodes.some((n) => nodes.has(n) && (!holds(coast, n) || holds(river, n))));
    expect(wet.map((w) => w.id)).toEqual([]);
  });

  it('leads every road for cars to the same network', () => {
    const drivable =
      /^(motorway|trunk|primary|secondary|tertiary|residential|living_street|unclassified|service)/;
    const root = new Map<number, number>();
    const find = (n: number): number => {
      let r = n;
      while ((root.get(r) ?? r) !== r) r = root.get(r)!;
      root.set(n, r);
      return r;
    };
    const roads = ways.filter((w) => drivable.test(w.tags.highway ?? '') && w.tags.area === undefined);
    for (const way of roads) for (const n of way.nodes) root.set(find(n), find(way.nodes[0]!));
    expect(new Set(roads.map((w) => find(w.nodes[0]!))).size).toBe(1);
  });
});
