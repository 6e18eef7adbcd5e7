#!/usr/bin/env node
import { readFileSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Command, CommanderError } from 'commander';
import type { z } from 'zod';
import { findOrigin } from '../shared/export/origin.ts';
import { NETWORK_RULES } from '../shared/network/build-network.ts';
import type { OsmExtract } from '../shared/osm/extract.ts';
import { type Refusal, refusal } from '../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../shared/outcome/result.ts';
import { describeRefusal } from '../shared/outcome/words.ts';
import { buildSurvey, listComplexNetworks } from '../shared/pipeline/build-survey.ts';
import { compareSurveys, type NetworkComparison } from '../shared/pipeline/compare-surveys.ts';
import { designComplex } from '../shared/pipeline/design-complex.ts';
import { rebuildSurvey } from '../shared/pipeline/rebuild-survey.ts';
import { toSurveyFiles } from '../shared/pipeline/to-survey-files.ts';
import { DEFAULT_RULES, type Rules } from '../shared/placement/rules.ts';
import { makeScheme } from '../shared/scheme/scheme.ts';
import { groupingOverridesSchema, rulePatchSchema } from '../shared/wire/survey.ts';
import { readExtract, readExtractFile } from './extracts/read-extract.ts';
import { serveBoremark } from './main.ts';
import { findProjectRoot } from './project-root.ts';

/** Exit codes: 0 done, 1 refused (one line on standard error), 2 usage. */
const REFUSED = 1;
const USAGE = 2;

const root = findProjectRoot(dirname(fileURLToPath(import.meta.url)));
const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };

const program = new Command('boremark')
  .description('Beacons for satellite navigation in road tunnels: survey a city, lay out the beacons.')
  .version(version)
  .exitOverride();

program
  .command('survey')
  .description('find every road tunnel of an area, lay out its beacons and write the result as GeoJSON')
  .argument(
    '<input>',
    'Overpass JSON, OSM XML (also .gz, .bz2) or OSM PBF, told by content; - is standard input',
  )
  .requiredOption('-o, --out <folder>', 'folder for the result; made where it is missing')
  .option('--rules <file>', 'JSON file with rules that differ from the defaults, e.g. {"spacingM": 30}')
  .option(
    '--grouping <file>',
    'JSON file with which bores are one tunnel, e.g. [{"kind": "join", "ways": [101, 202]}]; also "split"',
  )
  .addHelpText('after', '\nExample:\n  boremark survey data/demo/aldermouth.osm -o result')
  .exitOverride()
  .action(async (input: string, options: SurveyOptions) => {
    const result = await survey(input, options);
    if (!result.ok) refuse(result.refusal);
  });

program
  .command('compare')
  .description('list what a newer extract changes: tunnels, links, and every beacon’s way in metres, as JSON')
  .argument('<before>', 'the extract that was designed on')
  .argument('<after>', 'the newer extract of the same area')
  .requiredOption('-o, --out <file>', 'file for the result')
  .option('--rules <file>', 'as for survey')
  .option('--grouping <file>', 'as for survey')
  .addHelpText('after', '\nExample:\n  boremark compare last-year.osm.pbf today.osm.pbf -o changes.json')
  .exitOverride()
  .action(async (before: string, after: string, options: SurveyOptions) => {
    const result = await compare(before, after, options);
    if (!result.ok) refuse(result.refusal);
  });

program
  .command('serve')
  .description('serve the web app and the API, as npm start does (PORT, HOST)')
  .exitOverride()
  .action(() => serveBoremark());

type SurveyOptions = { readonly out: string; readonly rules?: string; readonly grouping?: string };

async function survey(input: string, options: SurveyOptions): Promise<Result<null>> {
  const rules = readRules(options.rules);
  if (!rules.ok) return rules;
  const grouping = readJson(options.grouping, groupingOverridesSchema);
  if (!grouping.ok) return grouping;
  const name = input === '-' ? 'standard input' : input;
  const extract = await readInput(input);
  if (!extract.ok) return extract;
  tell('building the network');
  const base = buildSurvey(extract.value, name, { ...NETWORK_RULES, overrides: grouping.value ?? [] });
  if (!base.ok) return base;
  const { network, findings } = base.value;
  tell(`designing ${network.complexes.length} tunnels`);
  const all = [...findings];
  const designed = listComplexNetworks(network).map((complexNetwork) => {
    const made = designComplex(complexNetwork, rules.value, makeScheme(complexNetwork.complex.id));
    all.push(...made.findings);
    return { network: complexNetwork, design: made.value };
  });
  const written = await writeFiles(
    options.out,
    toSurveyFiles(base.value, designed, all, {
      rules: rules.value,
      origin: findOrigin(extract.value.source),
    }),
  );
  tell('');
  if (written.ok) {
    const beacons = designed.reduce((sum, { design }) => sum + design.beacons.length, 0);
    process.stdout.write(`${designed.length} tunnels, ${beacons} beacons planned: ${options.out}\n`);
  }
  return written;
}

async function compare(before: string, after: string, options: SurveyOptions): Promise<Result<null>> {
  const rules = readRules(options.rules);
  if (!rules.ok) return rules;
  const grouping = readJson(options.grouping, groupingOverridesSchema);
  if (!grouping.ok) return grouping;
  if (before === '-' && after === '-') {
    return refused(refusal('request-invalid', { reason: 'only one of the two can be standard input' }));
  }
  const overrides = grouping.value ?? [];
  const [older, newer] = [await readInput(before), await readInput(after)];
  if (!older.ok) return older;
  if (!newer.ok) return newer;
  tell('building the networks');
  const base = buildSurvey(older.value, before, { ...NETWORK_RULES, overrides });
  if (!base.ok) return base;
  const { network } = base.value;
  const rebuilt = rebuildSurvey(network, newer.value, after, overrides);
  if (!rebuilt.ok) return rebuilt;
  const found = compareSurveys({ network, rules: rules.value, schemes: [] }, rebuilt.value);
  const { attribution } = findOrigin(newer.value.source);
  const text = `${JSON.stringify({ attribution, ...found })}\n`;
  const written = await writeFiles(dirname(options.out), new Map([[basename(options.out), text]]));
  tell('');
  if (written.ok) process.stdout.write(`${describeComparison(found)}: ${options.out}\n`);
  return written;
}

function describeComparison({ complexes, links, beacons, greatestBeaconShiftM }: NetworkComparison): string {
  const count = (list: readonly unknown[], word: string) =>
    `${list.length} ${word}${list.length === 1 ? '' : 's'}`;
  const most = beacons.length === 0 ? '' : `, at most ${greatestBeaconShiftM.toFixed(1)} m`;
  return `${count(complexes, 'tunnel')}, ${count(links, 'link')} and ${count(beacons, 'beacon')} differ${most}`;
}

async function readInput(input: string): Promise<Result<OsmExtract>> {
  const name = input === '-' ? 'standard input' : input;
  const onProgress = (bytes: number) => tell(`reading ${name}: ${(bytes / 1e6).toFixed(1)} MB`);
  return input === '-'
    ? readExtract(process.stdin, { name, onProgress })
    : readExtractFile(input, { name, onProgress });
}

async function writeFiles(folder: string, files: ReadonlyMap<string, string>): Promise<Result<null>> {
  try {
    await mkdir(folder, { recursive: true });
    for (const [name, text] of files) {
      tell(`writing ${name}`);
      await writeFile(join(folder, name), text);
    }
    return done(null);
  } catch (error) {
    return refused(refusal('file-not-writable', { name: folder, reason: reasonOf(error) }));
  }
}

function readRules(file: string | undefined): Result<Rules> {
  const read = readJson(file, rulePatchSchema);
  return read.ok ? done({ ...DEFAULT_RULES, ...read.value } as Rules) : read;
}

/** Reads a JSON file against a schema; undefined where no file was named. */
function readJson<T>(file: string | undefined, schema: z.ZodType<T>): Result<T | undefined> {
  if (file === undefined) return done(undefined);
  let data: unknown;
  try {
    data = JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    return refused(refusal('input-not-readable', { name: file, reason: reasonOf(error) }));
  }
  const parsed = schema.safeParse(data);
  if (parsed.success) return done(parsed.data);
  const reason = parsed.error.issues
    .map((issue) => `${issue.path.join('.') || file}: ${issue.message}`)
    .join('; ');
  return refused(refusal('request-invalid', { reason }));
}

function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT') return 'there is no such file';
  if (code === 'EACCES') return 'access is denied';
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'a file of that name is in the way';
  return error instanceof Error ? error.message : 'unknown';
}

/** Progress, only where a person is watching; each line replaces the one before. */
function tell(text: string): void {
  if (process.stderr.isTTY) process.stderr.write(`\r\x1b[2K${text}`);
}

function refuse(why: Refusal): void {
  tell('');
  process.stderr.write(`boremark: ${describeRefusal(why)}\n`);
  process.exitCode = REFUSED;
}

try {
  await program.parseAsync();
} catch (error) {
  // Help and version end here too, with code 0.
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? 0 : USAGE;
  else throw error;
}
