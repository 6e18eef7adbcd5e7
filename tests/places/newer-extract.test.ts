import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readExtractFile } from '../../server/extracts/read-extract.ts';
import { moveBy } from '../../shared/geodesy/segment.ts';
import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { OsmExtract, OsmWay } from '../../shared/osm/extract.ts';
import { buildSurvey } from '../../shared/pipeline/build-survey.ts';
import { compareSurveys } from '../../shared/pipeline/compare-surveys.ts';
import { rebuildSurvey } from '../../shared/pipeline/rebuild-survey.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';

/**
 * What happens to a whole city's map between two downloads, done to every tunnel at once. The demo city is invented:
 * what has to come out follows from what was done to it.
 */
const file = join(import.meta.dirname, '../../data/demo/aldermouth.osm');
const read = await readExtractFile(file, { name: 'demo' });
if (!read.ok) throw new Error(read.refusal.code);
const city = read.value;
const base = buildSurvey(city, 'demo', NETWORK_RULES);
if (!base.ok) throw new Error(base.refusal.code);
const standing = { network: base.value.network, rules: DEFAULT_RULES, schemes: [] };
const { network } = standing;

function compareWith(extract: OsmExtract) {
  const rebuilt = rebuildSurvey(network, extract, 'newer', []);
  if (!rebuilt.ok) throw new Error(rebuilt.refusal.code);
  return { rebuilt: rebuilt.value, found: compareSurveys(standing, rebuilt.value) };
}

const ids = (list: readonly { readonly id: string }[]) => list.map(({ id }) => id);

describe('a newer map of the whole city', () => {
  it('in which every long way was cut in two changes nothing', () => {
    // Whoever cuts a way that a turn restriction names mends the relation too: these are left whole here.
    const named = new Set(city.relations.flatMap(({ members }) => members.map(({ ref }) => ref)));
    const ways = city.ways.flatMap((way): OsmWay[] => {
      const middle = Math.floor(way.nodes.length / 2);
      const isRing = way.nodes[0] === way.nodes.at(-1);
      if (way.tags.tunnel === undefined || named.has(way.id) || way.nodes.length < 3 || isRing) return [way];
      return [
        { ...way, nodes: way.nodes.slice(0, middle + 1) },
        { ...way, id: way.id + 5_000_000_000, nodes: way.nodes.slice(middle) },
      ];
    });
    expect(ways.length).toBeGreaterThan(city.ways.length + 40);
    const byId = [...ways].sort((a, b) => a.id - b.id);
    const { found, rebuilt } = compareWith({ ...city, ways: byId });
    expect(ids(rebuilt.network.links)).toEqual(ids(network.links));
    expect(ids(rebuilt.network.complexes)).toEqual(ids(network.complexes));
    expect(found).toMatchObject({ complexes: [], links: [], beacons: [], greatestBeaconShiftM: 0 });
  });

  it('that lies 3 m farther east says so of every link and every beacon', () => {
    const nodes = city.nodes.map((node) => {
      const [lon, lat] = moveBy([node.lon, node.lat], 3, 0);
      return { ...node, lon, lat };
    });
    const { found } = compareWith({ ...city, nodes });
    expect(found.links.map(({ change }) => change)).toEqual(network.links.map(() => 'moved'));
    expect(found.unchanged).toEqual({ complexes: 0, links: 0, beacons: 0 });
    // Equal lengths, so that the layout is the same one, 3 m farther east.
    for (const beacon of found.beacons) {
      expect(beacon).toMatchObject({ change: 'moved', kept: 'layout' });
      expect(beacon.shiftM).toBeCloseTo(3, 1);
    }
  });

  it('that was drawn anew by others, with other ids and 1.5 m aside, is the same tunnels and links', () => {
    const renumber = (id: number) => id + 70_000_000_000;
    const nodes = city.nodes.map((node) => {
      const [lon, lat] = moveBy([node.lon, node.lat], 1, 1.1);
      return { ...node, id: renumber(node.id), lon, lat };
    });
    const ways = city.ways.map((way) => ({ ...way, id: renumber(way.id), nodes: way.nodes.map(renumber) }));
    const relations = city.relations.map((relation) => ({
      ...relation,
      members: relation.members.map((member) => ({ ...member, ref: renumber(member.ref) })),
    }));
    const { found, rebuilt } = compareWith({ ...city, nodes, ways, relations });
    expect(ids(rebuilt.network.links)).toEqual(ids(network.links));
    expect(ids(rebuilt.network.complexes)).toEqual(ids(network.complexes));
    expect(new Set(found.links.map(({ change }) => change))).toEqual(new Set(['moved']));
    for (const { greatestShiftM = 0 } of found.links) expect(greatestShiftM).toBeLessThan(1.6);
  });
});
