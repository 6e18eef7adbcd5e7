import { GENERATOR } from '../export/make-collection.ts';
import { toCsv } from '../export/to-csv.ts';
import { toComplexFeature } from '../export/to-network-features.ts';
import { toReport } from '../export/to-report.ts';
import type { Finding } from '../outcome/finding.ts';
import { EXPORTED_LAYERS } from '../wire/layers.ts';
import { type Designed, type LayerMembers, toCounts, toSurveyLayer } from './to-survey-layers.ts';

const CSV_COLUMNS = [
  'id',
  'name',
  'ref',
  'kind',
  'status',
  'exitCount',
  'decisionCount',
  'lengthM',
  'longestRouteM',
  'outageS',
  'maxspeedKmh',
  'roadClass',
  'boreCount',
  'portalCount',
  'divergeCount',
  'mergeCount',
  'beaconCount',
  'existingCount',
  'rank',
  'vehiclesPerDay',
  'misguidedPerDay',
  'misguidedPerDayWithDesign',
  'cost',
  'restricted',
  'assumed',
  'osmWays',
];

/** Every file of a survey's hand-over, by name, in a fixed order: the folder that the command line writes and the zip. */
export function toSurveyFiles(
  base: { readonly ways: number; readonly tunnelWays: number },
  designed: readonly Designed[],
  findings: readonly Finding[],
  members: LayerMembers,
): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  for (const layer of EXPORTED_LAYERS) {
    files.set(`${layer}.geojson`, toText(toSurveyLayer(layer, designed, findings, members)));
  }
  const rows = designed.map(({ network, design, ...known }) => {
    const feature = toComplexFeature(network, design, known);
    return { id: feature.id, ...feature.properties };
  });
  files.set('survey.csv', toCsv(rows, CSV_COLUMNS));
  files.set(
    'import-report.json',
    toText({ attribution: members.origin.attribution, ...toReport(findings, members.origin) }),
  );
  files.set('summary.json', toText(toCounts(base, designed, findings)));
  files.set('README.txt', toReadme(members.origin.attribution));
  return files;
}

function toText(value: unknown): string {
  return `${JSON.stringify(value)}\n`;
}

function toReadme(attribution: string): string {
  return `Road tunnels and planned beacons, written by ${GENERATOR}.

Data: ${attribution}.
Anyone who passes these files on has to name the source and keep the licence.

complexes.geojson  one feature for each tunnel, with its figures
bores.geojson      the links that a tunnel is made of, in the direction of travel where one-way
portals.geojson    where a bore meets the open air
features.geojson   emergency exits, phones, lay-bys along the bores, with chainage
decisions.geojson  where a driver can choose, underground or after a portal
beacons.geojson    planned places on the wall: link, chainage, offset (positive to the right), side, height
coverage.geojson   the carriageway along which each beacon is heard
survey.csv         the figures of complexes.geojson as a table
import-report.json what the import dropped or assumed, with the OpenStreetMap objects; rows that could not be used
summary.json       counts

Positions are degrees on WGS84 (RFC 7946), lengths metres on its ellipsoid. The alignment is as good as the map:
check it on site. Work in a tunnel only inside an approved closure with traffic management by licensed staff;
local codes and the tunnel manager's permit prevail. The figures are an aid to planning, not a safety function.
`;
}
