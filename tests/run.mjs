// `npm test`: every test, then one plain line that says how many passed, failed and were skipped.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const folder = mkdtempSync(join(tmpdir(), 'boremark-test-'));
const report = join(folder, 'report.json');
const run = spawnSync(
  process.execPath,
  [
    join(root, 'node_modules/vitest/vitest.mjs'),
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
    ...process.argv.slice(2),
  ],
  { cwd: root, stdio: 'inherit' },
);
let failed = 1;
try {
  const { numPassedTests, numFailedTests, numPendingTests, success } = JSON.parse(
    readFileSync(report, 'utf8'),
  );
  // A file that cannot be loaded fails without a test of its own.
  failed = success ? numFailedTests : Math.max(1, numFailedTests);
  console.log(`${numPassedTests} passed, ${failed} failed, ${numPendingTests} skipped`);
} catch {
  console.log('0 passed, 1 failed');
} finally {
  rmSync(folder, { recursive: true, force: true });
}
process.exit(run.status === 0 && failed === 0 ? 0 : 1);
