import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readExtractFile } from '../../server/extracts/read-extract.ts';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';

const CARS =
  /^(motorway|trunk|primary|secondary|tertiary)(_link)?$|^(unclassified|residential|living_street|service|road)$/;

async function network(path: string) {
  const extract = await readExtractFile(path, { name: path });
  if (!extract.ok) throw new Error(extract.refusal.code);
  return { extract: extract.value, ...buildNetwork(extract.value, NETWORK_RULES) };
}

const places = [
  ['the invented city', join(import.meta.dirname, '../../data/demo/aldermouth.osm')],
  ['Liechtenstein 2013', join(import.meta.dirname, 'liechtenstein/liechtenstein.osm.pbf')],
] as const;

describe.each(places)('%s', (_, path) => {
  it('has every tunnel segment that cars use in exactly one link, every other tunnel way in the report', async () => {
    const { extract, value, findings } = await network(path);
    const present = new Set(extract.nodes.map((node) => node.id));
    const inLinks = new Map<string, number>();
    for (const link of value.links) {
      link.nodes.slice(1).forEach((node, i) => {
        const stretch = link.stretches;
        const key = [node, link.nodes[i] as number].sort((a, b) => a - b).join('-');
        expect(stretch.length).toBeGreaterThan(0);
        inLinks.set(key, (inLinks.get(key) ?? 0) + 1);
      });
    }
    const reported = new Set(findings.filter((f) => f.subject.kind === 'way').map((f) => f.subject.id));
    let segments = 0;
    for (const way of extract.ways) {
      const { tunnel, covered, highway, area } = way.tags;
      const isTunnel = (tunnel !== undefined && !['no', 'false', '0'].includes(tunnel)) || covered === 'yes';
      if (!isTunnel || highway === undefined) continue;
      const isLink =
        CARS.test(highway) &&
        area !== 'yes' &&
        (!['culvert', 'passage', 'building_passage'].includes(tunnel ?? '') || covered === 'yes');
      if (!isLink) {
        expect(reported, `way ${way.id}`).toContain(String(way.id));
        continue;
      }
      way.nodes.slice(1).forEach((node, i) => {
        const before = way.nodes[i] as number;
        if (node === before || !present.has(node) || !present.has(before)) return;
        segments += 1;
        expect(inLinks.get([node, before].sort((a, b) => a - b).join('-')), `way ${way.id}`).toBe(1);
      });
    }
    expect(segments).toBeGreaterThan(1);
    expect([...inLinks.values()].reduce((sum, n) => sum + n, 0)).toBe(segments);
  });
});

describe('Liechtenstein 2013', () => {
  // Counted by hand in a map of the extract: two road tunnels for cars, each with two mouths.
  it('has its two road tunnels', async () => {
    const { value } = await network(places[1][1]);
    expect(value.complexes).toHaveLength(2);
    expect(value.complexes.map((complex) => complex.portals.length)).toEqual([2, 2]);
    // Sum of the geodesic segments, GeodSolve on the extract's coordinates.
    expect(value.complexes.reduce((sum, complex) => sum + complex.lengthM, 0)).toBeCloseTo(804.626, 2);
  });
});
