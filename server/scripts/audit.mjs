// Part of `npm run check`: known faults of the dependencies that go into the program. Fails for high and critical ones;
// where the registry tells no advisories (a mirror, no network) it says so and lets the check go on.
import { spawnSync } from 'node:child_process';

const run = spawnSync('npm', ['audit', '--omit=dev', '--audit=true', '--json'], {
  encoding: 'utf8',
  timeout: 60_000,
});
let found;
try {
  found = JSON.parse(run.stdout).metadata?.vulnerabilities;
} catch {
  // No JSON is no answer.
}
if (found === undefined) {
  console.log('Dependencies: not audited, the registry told no advisories.');
} else {
  const bad = found.high + found.critical;
  console.log(`Dependencies: ${bad} high or critical advisories, ${found.total} in all.`);
  if (bad > 0) {
    console.log('Run npm audit --omit=dev to see them.');
    process.exit(1);
  }
}
