import { readFileSync, writeFileSync } from 'node:fs';
import { buildAldermouth } from './aldermouth.ts';
import { buildEvidence } from './evidence.ts';
import { fillReadme } from './readme/fill-readme.ts';

const extract = new URL('./aldermouth.osm', import.meta.url);
const readme = new URL('./README.md', import.meta.url);

const { osm, tables } = buildAldermouth();
writeFileSync(extract, osm);
writeFileSync(readme, fillReadme(readFileSync(readme, 'utf8'), tables));

const { traffic, beacons } = buildEvidence(osm);
writeFileSync(new URL('./aldermouth-traffic.csv', import.meta.url), traffic);
writeFileSync(new URL('./aldermouth-beacons.csv', import.meta.url), beacons);
