import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { length, lineString } from '@turf/turf';
import osmtogeojson from 'osmtogeojson';
import { readExtract } from '../../server/extracts/read-extract.ts';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import type { Job } from './compare.ts';

/** The demo city as an extract. */
export async function readDemo(): Promise<OsmExtract> {
  const bytes = readFileSync(join(import.meta.dirname, '../../data/demo/aldermouth.osm'));
  const extract = await readExtract(Readable.from([bytes]), { name: 'demo' });
  if (!extract.ok) throw new Error(extract.refusal.code);
  return extract.value;
}

/** From JSON text to the network. */
export function networkJobs(extract: OsmExtract): readonly Job[] {
  const text = JSON.stringify({
    elements: [
      ...extract.nodes.map((node) => ({ type: 'node', ...node })),
      ...extract.ways.map((way) => ({ type: 'way', ...way })),
      ...extract.relations.map((relation) => ({ type: 'relation', ...relation })),
    ],
  });
  return [
    {
      name: 'ours (decode and network)',
      run: async () => {
        const read = await readExtract(Readable.from([Buffer.from(text)]), { name: 'demo' });
        return read.ok ? buildNetwork(read.value, NETWORK_RULES).value.links.length : 0;
      },
    },
    {
      name: 'osmtogeojson, conversion alone (reference)',
      run: () => osmtogeojson(JSON.parse(text) as never).features.length,
    },
  ];
}

/** Every design of the city anew. */
export function designJobs(extract: OsmExtract): readonly Job[] {
  const networks = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
  const lines = networks.flatMap((network) => network.links.map((link) => link.line));
  return [
    {
      name: 'ours (placement, coverage, checks)',
      run: () =>
        networks.reduce(
          (sum, network) =>
            sum + designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id)).value.beacons.length,
          0,
        ),
    },
    {
      name: '@turf/length of every link (reference)',
      run: () =>
        lines.reduce((sum, line) => sum + length(lineString(line.map(([lon, lat]) => [lon, lat]))), 0),
    },
  ];
}
