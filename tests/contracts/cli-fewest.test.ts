import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { check } from '@placemarkio/check-geojson';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
// The built program, as people run it: the solver's thread and its WebAssembly are files of their own there.
const cli = join(root, 'dist/server/cli.js');
const demo = join(root, 'data/demo/aldermouth.osm');
const folder = mkdtempSync(join(tmpdir(), 'boremark-fewest-'));
const file = join(folder, 'beacons.geojson');
/** Kell Hill Interchange: 8 km of bores and ramps in 17 links. */
const KELL_HILL = 't1900002002';

type Answer = {
  features: unknown[];
  method: string;
  bound?: number;
  checks: { rule: string; status: string }[];
};

function design(...args: string[]) {
  const run = spawnSync(process.execPath, [cli, 'design', demo, '-o', file, ...args], { encoding: 'utf8' });
  return { ...run, read: () => JSON.parse(readFileSync(file, 'utf8')) as Answer };
}

beforeAll(() => {
  if (!existsSync(cli))
    throw new Error('dist/server/cli.js is missing: npm test builds it, npx vitest alone does not');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('boremark design --method fewest', () => {
  it('proves the fewest, keeps every check, and gives the same bytes again', () => {
    const args = ['--complex', KELL_HILL, '--method', 'fewest', '--spacing', '60', '--time-limit', '120'];
    const run = design(...args);
    expect([run.status, run.stderr]).toEqual([0, '']);
    const text = readFileSync(file, 'utf8');
    check(text);
    const { features, method, bound, checks } = run.read();
    expect(method).toBe('fewest');
    expect(bound).toBe(features.length);
    expect(run.stdout).toContain(`${features.length} beacons planned (proven fewest)`);
    for (const rule of ['gap', 'coverage', 'decision-sight', 'branch-confirmation', 'portal-beacon']) {
      expect(checks.find((one) => one.rule === rule)?.status, rule).toBe('met');
    }
    design(...args);
    expect(readFileSync(file, 'utf8')).toBe(text);

    const even = design('--complex', KELL_HILL, '--method', 'even', '--spacing', '60');
    expect(even.read().method).toBe('even');
    expect(even.read().bound).toBeUndefined();
    expect(even.stdout).not.toMatch(/proven|needed/);
    expect(features.length).toBeLessThanOrEqual(even.read().features.length);
  });

  it('takes the sweep’s layout alone where it has no time', () => {
    const run = design('--complex', KELL_HILL, '--method', 'fewest', '--time-limit', '0');
    expect(run.stdout).toMatch(/beacons planned \(not proven\)/);
    expect(run.read().bound).toBeUndefined();
  });

  it.each([
    [['--method', 'most'], /Method must be one of even, fewest, but is most/],
    [['--time-limit', 'long'], /Time limit must be between 0 and 86400 s, but is long/],
    [['--time-limit', '-1'], /Time limit must be between/],
  ] as const)('refuses %j in one line', (args, words) => {
    const run = design('--complex', KELL_HILL, ...args);
    expect(run.status).toBe(1);
    expect(run.stderr).toMatch(words);
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
  });
});
