import { GENERATOR } from './make-collection.ts';
import type { Origin } from './origin.ts';

/** What each file is. */
const ABOUT: Readonly<Record<string, string>> = {
  'complexes.geojson': 'one feature for each tunnel, with its figures',
  'bores.geojson': 'the links that a tunnel is made of, in the direction of travel where one-way',
  'portals.geojson': 'where a bore meets the open air',
  'features.geojson': 'emergency exits, phones, lay-bys along the bores, with chainage',
  'decisions.geojson': 'where a driver can choose, underground or after a portal',
  'beacons.geojson':
    'planned places on the wall: link, chainage, offset (positive to the right), side, height',
  'coverage.geojson': 'the carriageway along which each beacon is heard',
  'survey.csv': 'the figures of complexes.geojson as a table',
  'import-report.json':
    'what the import of the whole survey dropped or assumed, with the objects; rows that could not be used',
  'summary.json': 'counts; ways, tunnelWays and warnings are those of the whole survey',
};

/** README.txt for these files. */
export function toReadmeText(names: readonly string[], { attribution }: Origin): string {
  const list = names.map((name) => `${name.padEnd(18)} ${ABOUT[name] ?? ''}`.trimEnd()).join('\n');
  return `Road tunnels and planned beacons, written by ${GENERATOR}.

Data: ${attribution}.
Anyone who passes these files on has to name the source and keep the licence.

${list}

Positions are degrees on WGS84 (RFC 7946), lengths metres on its ellipsoid. The alignment is as good as the map:
check it on site. Work in a tunnel only inside an approved closure with traffic management by licensed staff;
local codes and the tunnel manager's permit prevail. The figures are an aid to planning, not a safety function.
`;
}
