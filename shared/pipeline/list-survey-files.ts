import { toJsonSchema } from '../export/schemas/feature-schemas.ts';
import { toCsv } from '../export/to-csv.ts';
import { toGeojsonText } from '../export/to-geojson-text.ts';
import { toLicenceText } from '../export/to-licence-text.ts';
import { toComplexFeature } from '../export/to-network-features.ts';
import { toReadmeText } from '../export/to-readme-text.ts';
import { toReport } from '../export/to-report.ts';
import type { Finding } from '../outcome/finding.ts';
import type { ExportedLayer } from '../wire/layers.ts';
import { type Designed, type LayerMembers, toCounts } from './to-survey-layers.ts';
import { walkLayer } from './walk-layer.ts';

/** A file that is written piece by piece. */
export type TextFile = { readonly name: string; readonly pieces: Iterable<string> };

/** What files are made of; `designed` are the tunnels that were chosen. */
export type SurveyParts = {
  readonly base: { readonly ways: number; readonly tunnelWays: number };
  readonly designed: readonly Designed[];
  readonly findings: readonly Finding[];
  readonly members: LayerMembers;
};

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

/**
 * Every file of a hand-over, in a fixed order: the chosen layers as GeoJSON, the table where the tunnels are among
 * them, what the import noticed, counts, and what there is to know.
 */
export function listSurveyFiles(layers: readonly ExportedLayer[], parts: SurveyParts): readonly TextFile[] {
  const { base, designed, findings, members } = parts;
  const { rules, origin } = members;
  const collections = layers.map((layer) => ({
    name: `${layer}.geojson`,
    pieces: toGeojsonText([{ layer, features: walkLayer(layer, designed) }], origin, rules),
  }));
  const rest: TextFile[] = [
    {
      name: 'import-report.json',
      pieces: toText({ attribution: origin.attribution, ...toReport(findings, origin) }),
    },
    { name: 'summary.json', pieces: toText(toCounts(base, designed, findings)) },
  ];
  const table = { name: 'survey.csv', pieces: toTable(designed) };
  const files = [...collections, ...(layers.includes('complexes') ? [table] : []), ...rest];
  const named = files.map(({ name }) => name);
  return [...files, { name: 'README.txt', pieces: [toReadmeText(named, origin)] }];
}

/** What goes into a package beside them: the licence, and the schema of each layer. */
export function listPackageFiles(
  layers: readonly ExportedLayer[],
  { members }: SurveyParts,
): readonly TextFile[] {
  const schemas = layers.map((layer) => ({
    name: `schemas/${layer}.json`,
    pieces: toText(toJsonSchema(layer)),
  }));
  return [{ name: 'LICENCE.txt', pieces: [toLicenceText(members.origin)] }, ...schemas];
}

function* toTable(designed: readonly Designed[]): Generator<string> {
  yield toCsv([], CSV_COLUMNS);
  for (const { network, design, ...known } of designed) {
    const { id, properties } = toComplexFeature(network, design, known);
    yield toCsv([{ id, ...properties }], CSV_COLUMNS, false);
  }
}

function* toText(value: unknown): Generator<string> {
  yield `${JSON.stringify(value)}\n`;
}
