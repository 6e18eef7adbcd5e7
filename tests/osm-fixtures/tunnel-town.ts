import type { OsmExtract } from '../../shared/osm/extract.ts';

/*
 * One invented place in all three spellings: a road with a bore, an exit node, a lake whose outline has no tags of
 * its own, a turn restriction, and things that an extract leaves out (a house, a lone node, a footway).
 */

export const TOWN: OsmExtract = {
  source: { format: 'osm-xml', generator: 'invented' },
  bbox: [-20.1, 46, -20, 46.1],
  nodes: [
    { id: -1, lon: -20.01, lat: 46.01 },
    { id: 1, lon: -20.0512345, lat: 46.0512345 },
    { id: 2, lon: -20.0523456, lat: 46.0523456, tags: { highway: 'motorway_junction', ref: '7' } },
    { id: 3, lon: -20.06, lat: 46.06 },
    { id: 20, lon: -20.07, lat: 46.07 },
    { id: 21, lon: -20.08, lat: 46.07 },
    { id: 9_000_000_001, lon: -20.09, lat: 46.09, tags: { place: 'town', name: 'Tunnel “Städtchen” 隧道' } },
  ],
  ways: [
    { id: -5, nodes: [-1, 1], tags: { highway: 'primary', oneway: '-1' } },
    { id: 10, nodes: [1, 2, 3], tags: { highway: 'motorway', tunnel: 'yes', name: 'A & B <bore>' } },
    { id: 11, nodes: [20, 21, 20], tags: {} },
  ],
  relations: [
    {
      id: 100,
      members: [{ type: 'way', ref: 11, role: 'outer' }],
      tags: { type: 'multipolygon', natural: 'water' },
    },
    {
      id: 101,
      members: [
        { type: 'way', ref: -5, role: 'from' },
        { type: 'node', ref: 1, role: 'via' },
        { type: 'way', ref: 10, role: 'to' },
      ],
      tags: { type: 'restriction', restriction: 'no_left_turn' },
    },
  ],
};

/** What a file may hold beside it, and an extract does not. */
export const LEFT_OUT = {
  node: { id: 50, lon: -20.02, lat: 46.02, tags: { natural: 'tree' } },
  house: { id: 51, nodes: [50, 1, 50], tags: { building: 'yes' } },
  footway: { id: 52, nodes: [50, 3], tags: { highway: 'footway' } },
  bus: {
    id: 102,
    members: [{ type: 'way' as const, ref: 10, role: '' }],
    tags: { type: 'route', route: 'bus' },
  },
};

const NODES = [...TOWN.nodes, LEFT_OUT.node];
const WAYS = [...TOWN.ways, LEFT_OUT.house, LEFT_OUT.footway];
const RELATIONS = [...TOWN.relations, LEFT_OUT.bus];

/** The place and what is left out of it, as a file's elements. */
export const ELEMENTS = { nodes: NODES, ways: WAYS, relations: RELATIONS };

/** The place as OSM XML. */
export const TOWN_XML = `<?xml version="1.0" encoding="UTF-8"?>
<osm version="0.6" generator="invented">
  <bounds minlat="46" minlon="-20.1" maxlat="46.1" maxlon="-20"/>
  <!-- nothing here is real -->
${NODES.map((node) => `  <node id="${node.id}" lat="${node.lat}" lon="${node.lon}">${xmlTags(node.tags)}</node>`).join('\n')}
${WAYS.map(({ id, nodes, tags }) => `  <way id="${id}">${nodes.map((ref) => `<nd ref="${ref}"/>`).join('')}${xmlTags(tags)}</way>`).join('\n')}
${RELATIONS.map(
  ({ id, members, tags }) =>
    `  <relation id="${id}">${members
      .map(({ type, ref, role }) => `<member type="${type}" ref="${ref}" role="${role}"/>`)
      .join('')}${xmlTags(tags)}</relation>`,
).join('\n')}
</osm>
`;

/** The place as Overpass JSON. */
export const TOWN_JSON = JSON.stringify(
  {
    version: 0.6,
    generator: 'invented',
    osm3s: { timestamp_osm_base: '2026-01-02T03:04:05Z', copyright: 'a "quoted" } ] text' },
    elements: [
      { type: 'count', id: 0, tags: { nodes: '7' } },
      ...NODES.map((node) => ({ type: 'node', ...node })),
      ...WAYS.map((way) => ({ type: 'way', ...way })),
      ...RELATIONS.map((relation) => ({ type: 'relation', ...relation })),
    ],
  },
  undefined,
  1,
);

function xmlTags(tags: Readonly<Record<string, string>> = {}): string {
  const quote = (text: string) =>
    text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
  return Object.entries(tags)
    .map(([k, v]) => `<tag k="${quote(k)}" v="${quote(v)}"/>`)
    .join('');
}
