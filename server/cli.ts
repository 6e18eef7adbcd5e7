#!/usr/bin/env node
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Command, CommanderError } from 'commander';
import type { Refusal } from '../shared/outcome/refusal.ts';
import type { Result } from '../shared/outcome/result.ts';
import { describeRefusal } from '../shared/outcome/words.ts';
import {
  type AddOptions,
  addAccount,
  changeAccount,
  changeAccountRole,
  listAllAccounts,
  renewAccountPassword,
} from './commands/account.ts';
import { runBackUp, runRestore } from './commands/back-up.ts';
import { compare } from './commands/compare.ts';
import { DEFAULT_TIME_LIMIT_S, type DesignOptions, design } from './commands/design.ts';
import { type SurveyOptions, survey } from './commands/survey.ts';
import { tell } from './commands/tell.ts';
import { runWorker } from './commands/work.ts';
import { serveBoremark } from './main.ts';
import { findProjectRoot } from './project-root.ts';

/** Exit codes: 0 done, 1 refused (one line on standard error), 2 usage. */
const REFUSED = 1;
const USAGE = 2;

const root = findProjectRoot(dirname(fileURLToPath(import.meta.url)));
const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };

const STORE_HELP = `
The store is the one that the server uses: the data folder (BOREMARK_DATA, .boremark in this folder by default), or the
PostgreSQL database that DATABASE_URL names. A backup of one can be restored into the other.`;

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
  .option(
    '--traffic <csv>',
    'counts: way (OSM id), ref or name; vehicles_per_day or aadt; optional heavy_share. Both directions together on a two-way bore',
  )
  .option(
    '--existing <file>',
    'beacons that are there: GeoJSON points or CSV with lon, lat; optional device_id, state, install_date',
  )
  .addHelpText(
    'after',
    `
Examples:
  boremark survey data/demo/aldermouth.osm -o result
  boremark survey data/demo/aldermouth.osm -o result --traffic data/demo/aldermouth-traffic.csv --existing data/demo/aldermouth-beacons.csv`,
  )
  .exitOverride()
  .action(async (input: string, options: SurveyOptions) => {
    const result = await survey(input, options);
    if (!result.ok) refuse(result.refusal);
  });

program
  .command('design')
  .description('lay out the beacons of one tunnel and write them as GeoJSON')
  .argument('<input>', 'as for survey')
  .requiredOption('--complex <id>', 'the tunnel, by its id in complexes.geojson')
  .requiredOption('-o, --out <file>', 'file for the result')
  .option('--rules <file>', 'as for survey')
  .option('--spacing <metres>', 'greatest distance from one beacon to the next, over what the rules say')
  .option(
    '--method <method>',
    'even (equal intervals) or fewest (the smallest number), over what the rules say',
  )
  .option(
    '--time-limit <seconds>',
    'for fewest: how long to look for a proof; 0 for none, Ctrl+C ends it early',
    String(DEFAULT_TIME_LIMIT_S),
  )
  .addHelpText('after', '\nExample:\n  boremark design city.osm.pbf --complex t1900003004 -o beacons.geojson')
  .exitOverride()
  .action(async (input: string, options: DesignOptions) => {
    const result = await design(input, options);
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

program
  .command('worker')
  .description(
    'do the imports of the servers on one PostgreSQL database (DATABASE_URL), BOREMARK_JOBS at once',
  )
  .exitOverride()
  .action(async () => {
    const result = await runWorker();
    if (!result.ok) refuse(result.refusal);
  });

program
  .command('backup')
  .description('write everything that the store holds to one file; the server goes on meanwhile')
  .argument('<file>', 'a new file')
  .addHelpText('after', STORE_HELP)
  .exitOverride()
  .action(async (file: string) => {
    const result = await runBackUp(file);
    if (!result.ok) refuse(result.refusal);
  });

program
  .command('restore')
  .description('let a backup take the place of everything in the store; a server that runs goes on with it')
  .argument('<file>', 'a file that backup has written')
  .option('--replace', 'also where the store holds work that will be lost')
  .addHelpText('after', STORE_HELP)
  .exitOverride()
  .action(async (file: string, options: { replace?: boolean }) => {
    const result = await runRestore(file, options);
    if (!result.ok) refuse(result.refusal);
  });

const account = program
  .command('account')
  .description('who may sign in where BOREMARK_AUTH=accounts; also while the server runs')
  .addHelpText('after', STORE_HELP)
  .exitOverride();

account
  .command('add')
  .description('make an account and print its first password')
  .argument('<email>', 'what its owner signs in with')
  .requiredOption(
    '--role <role>',
    'reader, crew, planner or administrator; each may do what those before it may',
  )
  .option('--name <name>', 'how the history calls its owner; by default what stands before the @')
  .addHelpText(
    'after',
    '\nExample:\n  boremark account add planner@example.org --name "Planning" --role planner',
  )
  .exitOverride()
  .action(async (email: string, options: AddOptions) => finish(await addAccount(email, options)));

account
  .command('list')
  .description('print all accounts')
  .exitOverride()
  .action(async () => finish(await listAllAccounts()));

account
  .command('password')
  .description('give an account a new password, print it, and sign it out everywhere')
  .argument('<email>')
  .exitOverride()
  .action(async (email: string) => finish(await renewAccountPassword(email)));

account
  .command('role')
  .description('give an account another role')
  .argument('<email>')
  .argument('<role>', 'reader, crew, planner or administrator')
  .exitOverride()
  .action(async (email: string, role: string) => finish(await changeAccountRole(email, role)));

account
  .command('close')
  .description('let nobody sign in to an account any more; the history goes on naming it')
  .argument('<email>')
  .exitOverride()
  .action(async (email: string) => finish(await changeAccount(email, { isClosed: true })));

account
  .command('open')
  .description('open a closed account again')
  .argument('<email>')
  .exitOverride()
  .action(async (email: string) => finish(await changeAccount(email, { isClosed: false })));

function finish(result: Result<unknown>): void {
  if (!result.ok) refuse(result.refusal);
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
