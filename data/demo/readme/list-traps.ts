import type { City, Tags } from '../city/city.ts';
import type { Ids } from '../city/write-osm.ts';
import { rangesOf } from './list-tunnels.ts';
import { toTable } from './to-table.ts';

type Test = (tags: Tags, note: string) => boolean;

/** What a reader of the file must get right, and how to find it among the ways. */
const TRAPS: readonly (readonly [what: string, test: Test])[] = [
  ['`tunnel=no`', (t) => t.tunnel === 'no'],
  ['`tunnel=false`', (t) => t.tunnel === 'false'],
  ['`tunnel=0`', (t) => t.tunnel === '0'],
  ['`tunnel=culvert` on the road', (t) => t.tunnel === 'culvert'],
  ['`tunnel=building_passage`', (t) => t.tunnel === 'building_passage'],
  ['`tunnel=passage`', (t) => t.tunnel === 'passage'],
  ['`tunnel=avalanche_protector`: a gallery, open at the side', (t) => t.tunnel === 'avalanche_protector'],
  ['`covered=yes`', (t) => t.covered === 'yes'],
  ['`highway=construction` with a tunnel tag', (t) => t.highway === 'construction' && t.tunnel === 'yes'],
  ['`highway=proposed` with a tunnel tag', (t) => t.highway === 'proposed' && t.tunnel === 'yes'],
  ['`highway=abandoned` with a tunnel tag', (t) => t.highway === 'abandoned' && t.tunnel === 'yes'],
  ['tunnel of a footway', (t) => t.highway === 'footway' && t.tunnel === 'yes'],
  ['tunnel of a cycleway', (t) => t.highway === 'cycleway' && t.tunnel === 'yes'],
  ['tunnel of a railway', (t) => t.railway === 'rail' && t.tunnel === 'yes'],
  ['`access=private`, `service=driveway`', (t) => t.service === 'driveway' && t.tunnel === 'yes'],
  ['`access=private`, `service=parking_aisle`', (t) => t.service === 'parking_aisle'],
  ['`access=no`', (t) => t.access === 'no'],
  ['`area=yes` with a tunnel tag', (t) => t.area === 'yes'],
  [
    'one-way only because it is a motorway (no `oneway` tag)',
    (t) => t.highway === 'motorway' && t.tunnel === 'yes' && t.oneway === undefined,
  ],
  ['`oneway=yes` on a motorway', (t) => t.highway === 'motorway' && t.tunnel === 'yes' && t.oneway === 'yes'],
  [
    'one-way only because it is a roundabout below ground',
    (t) => t.junction === 'roundabout' && t.tunnel === 'yes',
  ],
  ['`junction=circular`', (t) => t.junction === 'circular'],
  ['`oneway=-1`', (t) => t.oneway === '-1' && t.tunnel === 'yes'],
  ['`oneway=1`', (t) => t.oneway === '1' && t.tunnel === 'yes'],
  ['`oneway=true`', (t) => t.oneway === 'true' && t.tunnel === 'yes'],
  ['`oneway=no`', (t) => t.oneway === 'no'],
  ['`oneway=reversible`', (t) => t.oneway === 'reversible'],
  ['`lanes` missing', (_, note) => note.includes('lanes') && note.includes('missing')],
  ['`maxspeed` missing', (_, note) => note.includes('maxspeed') && note.includes('missing')],
  ['`lanes=2;3`', (t) => t.lanes === '2;3'],
  ['`width=7.5 m`', (t) => t.width === '7.5 m'],
  ['`maxspeed=30 mph`', (t) => t.maxspeed === '30 mph'],
  ['`maxspeed=walk`', (t) => t.maxspeed === 'walk'],
  ['`maxspeed=none`', (t) => t.maxspeed === 'none'],
  ['`maxspeed=DE:urban`: a country code', (t) => t.maxspeed === 'DE:urban'],
  ['`maxspeed=as posted`: cannot be read', (t) => t.maxspeed === 'as posted'],
  ['one piece of a bore drawn against the others', (_, note) => note.includes('drawn against')],
  ['dead end underground', (_, note) => note.includes('dead end')],
  [
    'runs out of the extract: its last nodes are not in the file',
    (_, note) => note.includes('out of the extract'),
  ],
  ['bores without a common node: `tunnel:name` joins them', (_, note) => note.startsWith('harbour crossing')],
  ['bores without a name: `ref` and nearness join them', (_, note) => note.startsWith('Hallow Moor')],
  ['bores that only nearness joins (no name, no ref)', (_, note) => note.startsWith('unnamed twin')],
  ['bores that only a `type=tunnel` relation joins', (_, note) => note.includes('type=tunnel')],
  ['opening of 60 m between two tunnels', (t) => t['tunnel:name'] === 'Tolland Tunnel'],
  [
    'ramps stacked without shared nodes',
    (_, note) => /^(ramp|north|south|west|exit from the hall)/.test(note),
  ],
];

/** The traps with the ways that show them; Markdown. Throws when one is not in the city. */
export function listTraps(city: City, ids: Ids): string {
  const rows = TRAPS.map(([what, test]) => {
    const found = city.ways.filter((w) => test(w.tags, w.note ?? '')).map((w) => ids.way.get(w)!);
    if (found.length === 0) throw new Error(`the city has no ${what}`);
    return [what, rangesOf(found)];
  });
  return toTable([['trap', 'ways'], ...rows]);
}
