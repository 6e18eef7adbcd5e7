import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
// The built program, as people run it.
const cli = join(root, 'dist/server/cli.js');
const demo = join(root, 'data/demo/aldermouth.osm');
const traffic = join(root, 'data/demo/aldermouth-traffic.csv');
const existing = join(root, 'data/demo/aldermouth-beacons.csv');
const folder = mkdtempSync(join(tmpdir(), 'boremark-cli-evidence-'));

const survey = (out: string, ...args: string[]) =>
  spawnSync(process.execPath, [cli, 'survey', demo, '-o', join(folder, out), ...args], {
    cwd: folder,
    encoding: 'utf8',
  });
const read = (out: string, name: string) => readFileSync(join(folder, out, name), 'utf8');

type Told = { name?: string; status: string; existingCount: number; vehiclesPerDay?: number; rank?: number };
function complexes(out: string): readonly Told[] {
  const { features } = JSON.parse(read(out, 'complexes.geojson')) as { features: { properties: Told }[] };
  return features.map(({ properties }) => properties);
}

beforeAll(() => {
  if (!existsSync(cli))
    throw new Error('dist/server/cli.js is missing: npm test builds it, npx vitest alone does not');
  expect(survey('plain').status).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('boremark survey --traffic --existing', () => {
  it('tells how many rows matched, which did not, and what follows for each tunnel', () => {
    const run = survey('both', '--traffic', traffic, '--existing', existing);
    expect([run.status, run.stderr]).toEqual([0, '']);
    expect(run.stdout).toMatch(/^traffic: 11 of 13 rows matched; the others are in import-report\.json$/m);
    const items = readFileSync(existing, 'utf8').trim().split('\n').length - 1;
    expect(run.stdout).toContain(`existing beacons: ${items - 1} of ${items} rows matched`);

    const before = complexes('plain');
    const after = complexes('both');
    expect(new Set(before.map(({ status }) => status)).has('equipped')).toBe(false);
    expect(before.every(({ existingCount }) => existingCount === 0)).toBe(true);
    const wrenlow = after.find(({ name }) => name === 'Wrenlow Tunnel');
    expect(wrenlow).toMatchObject({ status: 'equipped', vehiclesPerDay: 9200 });
    expect(wrenlow?.existingCount).toBeGreaterThan(20);
    expect(after.find(({ name }) => name === 'Fold Hill Tunnel')?.status).toBe('partly equipped');
    expect(after.map(({ rank }) => rank)).not.toEqual(before.map(({ rank }) => rank));

    const { reasons } = JSON.parse(read('both', 'import-report.json')) as { reasons: { code: string }[] };
    expect(reasons.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['traffic-row-unmatched', 'traffic-row-unusable', 'existing-ambiguous']),
    );
    const [head, ...rows] = read('both', 'survey.csv').trim().split('\r\n');
    expect(head?.split(',')).toEqual(expect.arrayContaining(['status', 'existingCount', 'rank']));
    expect(rows.filter((row) => /\bequipped\b/.test(row) && !/partly/.test(row))).toHaveLength(1);
  });

  it.each([
    ['--traffic', '', /bad\.csv holds no rows/],
    ['--traffic', 'tunnel;cars\nA;1\n', /bad\.csv has no column way or ref or name.*tunnel, cars/],
    ['--traffic', 'name,aadt\n"Harbour,100\n', /bad\.csv/],
    ['--traffic', '<html></html>', /bad\.csv is a web page/],
    ['--existing', 'name,lat\nA,1\n', /bad\.csv has no column lon/],
    ['--existing', 'lon,lat\n700000,5100000\n', /bad\.csv.*700000/],
    ['--existing', '{"type":"FeatureColl', /bad\.csv is not a GeoJSON FeatureCollection/],
  ])('refuses %s %j in one line with exit 1, and writes nothing', (option, text, words) => {
    const file = join(folder, 'bad.csv');
    writeFileSync(file, text);
    const run = survey('none', option, file);
    expect(run.status).toBe(1);
    expect(run.stderr).toMatch(words);
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
    expect(existsSync(join(folder, 'none'))).toBe(false);
  });

  it.each(['--traffic', '--existing'])('refuses a file for %s that is not there', (option) => {
    const run = survey('none', option, 'missing.csv');
    expect([run.status, run.stderr]).toEqual([1, expect.stringMatching(/missing\.csv cannot be opened/)]);
  });
});
