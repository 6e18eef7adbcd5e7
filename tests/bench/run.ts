/**
 * `npm run bench`: what the core does per second, each figure beside a named reference that does a comparable job in
 * the same run. Seeded, median of several rounds.
 */
import { compareRates, compareTimes, countKept } from './compare.ts';
import { coverageJobs } from './coverage-jobs.ts';
import { designJobs, networkJobs, readDemo } from './demo-jobs.ts';
import { driveJobs } from './drive-jobs.ts';
import { lengthJobs } from './length-jobs.ts';
import { drawLines, placementJobs } from './placement-jobs.ts';
import { startPostgis } from './postgis.ts';
import { recomputeJobs } from './recompute-jobs.ts';
import { tileJobs } from './tile-jobs.ts';

await compareTimes('length of 20,000 segments of 5 to 50 m', lengthJobs());

const postgis = startPostgis();
await compareRates(
  'beacons at no more than 40 m on 20,000 lines of some 2 km, lengths measured',
  await placementJobs(drawLines(), postgis),
);
if (postgis === undefined) console.log('  no PostgreSQL with PostGIS found: left out');

await compareRates('where 100,000 beacons are heard, in a city of forked tunnels', coverageJobs());

const { beacons, jobs } = recomputeJobs();
await compareTimes(`one tunnel of ${beacons} beacons with 10 ramps, after one rule was changed`, jobs, 50);

const drive = driveJobs();
await compareTimes(drive.title, drive.jobs);

const tiles = tileJobs();
await compareTimes(`a screen of a city of ${tiles.beacons} beacons as vector tiles`, tiles.jobs);

const demo = await readDemo();
await compareTimes('demo city: JSON text to network', networkJobs(demo));
await compareTimes('demo city: every design laid out anew', designJobs(demo));
console.log(`(kept alive: ${countKept()} results)`);
