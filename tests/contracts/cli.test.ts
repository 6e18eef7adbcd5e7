import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { check } from '@placemarkio/check-geojson';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { collectionSchema } from '../../shared/export/schemas/feature-schemas.ts';
import type { Comparison } from '../../shared/wire/comparison.ts';
import { EXPORTED_LAYERS } from '../../shared/wire/layers.ts';

const root = join(import.meta.dirname, '../..');
// The built program, as people run it: some faults (CommonJS imports) show only there.
const cli = join(root, 'dist/server/cli.js');
const demo = join(root, 'data/demo/aldermouth.osm');
const folder = mkdtempSync(join(tmpdir(), 'boremark-cli-'));
const out = join(folder, 'out');

function boremark(args: readonly string[], input?: Buffer) {
  return spawnSync(process.execPath, [cli, ...args], {
    cwd: folder,
    encoding: 'utf8',
    ...(input ? { input } : {}),
  });
}

beforeAll(() => {
  if (!existsSync(cli))
    throw new Error('dist/server/cli.js is missing: npm test builds it, npx vitest alone does not');
  const run = boremark(['survey', demo, '-o', out]);
  expect(run.stderr).toBe('');
  expect(run.status).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

type Complexes = { features: { properties: { name?: string; osmWays: number[] } }[] };

const readAll = (from: string) =>
  Object.fromEntries(readdirSync(from).map((name) => [name, readFileSync(join(from, name), 'utf8')]));

describe('boremark survey', () => {
  it('writes the files of the hand-over', () => {
    expect(readdirSync(out).sort()).toEqual([
      'README.txt',
      'beacons.geojson',
      'bores.geojson',
      'complexes.geojson',
      'coverage.geojson',
      'decisions.geojson',
      'features.geojson',
      'import-report.json',
      'portals.geojson',
      'summary.json',
      'survey.csv',
    ]);
    for (const name of readdirSync(out).filter((file) => file.endsWith('.geojson'))) {
      check(readFileSync(join(out, name), 'utf8'));
    }
  });

  it.each(EXPORTED_LAYERS)('keeps to the schema of %s', (layer) => {
    const parsed = collectionSchema(layer).safeParse(
      JSON.parse(readFileSync(join(out, `${layer}.geojson`), 'utf8')),
    );
    expect(parsed.error?.issues.slice(0, 3)).toBeUndefined();
  });

  it('gives the same bytes again, from standard input and from gzip', () => {
    const first = readAll(out);
    const again = join(folder, 'again');
    expect(boremark(['survey', '-', '-o', again], gzipSync(readFileSync(demo))).status).toBe(0);
    expect(readAll(again)).toEqual(first);
  });

  it('counts what it wrote', () => {
    const files = readAll(out);
    const summary = JSON.parse(files['summary.json'] ?? '') as Record<string, number>;
    const count = (name: string) =>
      (JSON.parse(files[`${name}.geojson`] ?? '') as { features: [] }).features.length;
    expect(summary).toMatchObject({
      complexes: count('complexes'),
      links: count('bores'),
      portals: count('portals'),
      decisions: count('decisions'),
      beacons: count('beacons'),
    });
    expect(files['survey.csv']?.trim().split('\r\n')).toHaveLength((summary.complexes ?? 0) + 1);
  });

  it('takes rules from a file', () => {
    const rules = join(folder, 'rules.json');
    writeFileSync(rules, '{"spacingM": 80}');
    const wide = join(folder, 'wide');
    expect(boremark(['survey', demo, '-o', wide, '--rules', rules]).status).toBe(0);
    const beacons = (from: string) =>
      JSON.parse(readFileSync(join(from, 'summary.json'), 'utf8')).beacons as number;
    expect(beacons(wide)).toBeLessThan(beacons(out) * 0.6);
    writeFileSync(rules, '{"spacingM": "wide"}');
    const refused = boremark(['survey', demo, '-o', wide, '--rules', rules]);
    expect(refused.status).toBe(1);
    expect(refused.stderr).toMatch(/spacingM/);
  });

  it('groups bores as people say', () => {
    const grouping = join(folder, 'grouping.json');
    const count = (from: string) =>
      JSON.parse(readFileSync(join(from, 'summary.json'), 'utf8')).complexes as number;
    const harbour = (
      JSON.parse(readFileSync(join(out, 'complexes.geojson'), 'utf8')) as Complexes
    ).features.find(({ properties }) => properties.name === 'Aldermouth Harbour Tunnel');
    const [west, east] = [harbour?.properties.osmWays[0], harbour?.properties.osmWays.at(-1)];
    writeFileSync(grouping, JSON.stringify([{ kind: 'split', ways: [west, east] }]));
    const apart = join(folder, 'apart');
    expect(boremark(['survey', demo, '-o', apart, '--grouping', grouping]).status).toBe(0);
    expect(count(apart)).toBe(count(out) + 1);
    writeFileSync(grouping, '[{"kind": "join", "ways": [1]}]');
    expect(boremark(['survey', demo, '-o', apart, '--grouping', grouping]).stderr).toMatch(/ways/);
  });

  // GDAL is a reader that is not ours. CI installs it; elsewhere its absence is said, not hidden.
  const gdal = spawnSync('ogrinfo', ['--version']).status === 0;
  if (!gdal && process.env.CI) throw new Error('CI must have ogrinfo (gdal-bin)');
  it.skipIf(!gdal)('opens in GDAL, every geometry valid (skipped where ogrinfo is not installed)', () => {
    for (const name of readdirSync(out).filter((file) => file.endsWith('.geojson'))) {
      const layer = name.replace('.geojson', '');
      const sql = `SELECT count(*) AS n, sum(ST_IsValid(geometry)) AS valid FROM "${layer}"`;
      const info = execFileSync('ogrinfo', ['-q', '-dialect', 'sqlite', '-sql', sql, join(out, name)], {
        encoding: 'utf8',
      });
      const [, n, valid] = /n \(Integer\) = (\d+)\s+valid \(Integer\) = (\d+)/.exec(info) ?? [];
      expect(Number(n), name).toBe(JSON.parse(readFileSync(join(out, name), 'utf8')).features.length);
      expect(valid, name).toBe(n);
    }
  });
});

describe('refusals and usage', () => {
  const write = (name: string, content: string | Buffer) => {
    writeFileSync(join(folder, name), content);
    return name;
  };
  it.each([
    ['an empty file', () => write('empty.osm', ''), /empty\.osm is empty/],
    ['a web page', () => write('page.osm', '<html><body>busy</body></html>'), /page\.osm is a web page/],
    ['a cut PBF', () => write('cut.osm.pbf', cutPbf()), /cut\.osm\.pbf ends early/],
    ['a missing file', () => 'missing.osm', /missing\.osm cannot be opened: there is no such file/],
    ['a folder', () => '.', /cannot be opened/],
  ])('refuses %s in one line with exit 1', (_, make, words) => {
    const run = boremark(['survey', make(), '-o', join(folder, 'none')]);
    expect(run.status).toBe(1);
    expect(run.stderr).toMatch(words);
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
    expect(existsSync(join(folder, 'none'))).toBe(false);
  });

  it('refuses a folder that cannot be made', () => {
    const run = boremark(['survey', demo, '-o', join(demo, 'inside-a-file')]);
    expect(run.status).toBe(1);
    expect(run.stderr).toMatch(/cannot be written/);
  });

  it.each([[['survey']], [['nonsense']], [['survey', demo]], [['survey', demo, '-o', 'x', '--unknown']]])(
    'exits 2 on %j',
    (args) => expect(boremark(args).status).toBe(2),
  );

  it.each([[['--help']], [['survey', '--help']], [['serve', '--help']]])('helps on %j', (args) => {
    const run = boremark(args);
    expect(run.status).toBe(0);
    expect(run.stdout).toContain('Usage:');
  });
});

function cutPbf(): Buffer {
  const whole = readFileSync(join(root, 'tests/places/liechtenstein/liechtenstein.osm.pbf'));
  return whole.subarray(0, Math.floor(whole.length * 0.7));
}

describe('boremark design', () => {
  const file = join(folder, 'beacons.geojson');
  const design = (...args: string[]) => boremark(['design', demo, '-o', file, ...args]);
  type Beacons = { rules: { spacingM: number }; features: { properties: { chainageM: number } }[] };

  it('writes the beacons of one tunnel, the same as the survey does', () => {
    expect(design('--complex', 't1900003004').status).toBe(0);
    const text = readFileSync(file, 'utf8');
    check(text);
    const all = JSON.parse(readFileSync(join(out, 'beacons.geojson'), 'utf8')) as {
      features: { properties: { complex: string } }[];
    };
    const own = all.features.filter(({ properties }) => properties.complex === 't1900003004');
    expect(own.length).toBeGreaterThan(20);
    expect((JSON.parse(text) as Beacons).features).toEqual(own);
    const { checks } = JSON.parse(text) as { checks: { rule: string; status: string }[] };
    expect(checks.find(({ rule }) => rule === 'gap')).toMatchObject({
      status: 'met',
      required: 40,
      unit: 'm',
    });
  });

  it('takes the spacing, and refuses what is none or no tunnel', () => {
    expect(design('--complex', 't1900003004', '--spacing', '30').status).toBe(0);
    const { rules, features } = JSON.parse(readFileSync(file, 'utf8')) as Beacons;
    expect(rules.spacingM).toBe(30);
    const places = features.map(({ properties }) => properties.chainageM).sort((a, b) => a - b);
    for (const [i, atM] of places.slice(1).entries()) expect(atM - (places[i] ?? 0)).toBeLessThanOrEqual(30);
    for (const [args, words] of [
      [['--complex', 't1900003004', '--spacing', 'wide'], /Spacing must be between/],
      [['--complex', 'no-such'], /no tunnel no-such/],
    ] as const) {
      const refused = design(...args);
      expect(refused.status).toBe(1);
      expect(refused.stderr).toMatch(words);
      expect(refused.stderr.trim().split('\n')).toHaveLength(1);
    }
    expect(boremark(['design', demo, '-o', file]).status).toBe(2);
  });
});

describe('boremark compare', () => {
  it('lists what a newer extract changes, and nothing where it changes nothing', () => {
    const file = join(folder, 'changes.json');
    const read = () => JSON.parse(readFileSync(file, 'utf8')) as Comparison & { attribution: string };
    const same = boremark(['compare', demo, demo, '-o', file]);
    expect(same.stdout).toMatch(/^0 tunnels, 0 links and 0 beacons differ:/);
    expect(read()).toMatchObject({ complexes: [], links: [], beacons: [] });
    const newer = join(folder, 'newer.osm');
    const way =
      /<way id="1900003004"[\s\S]*?<tag k="tunnel" v="yes"\/>/.exec(readFileSync(demo, 'utf8'))?.[0] ?? '';
    expect(way).not.toBe('');
    writeFileSync(
      newer,
      readFileSync(demo, 'utf8').replace(way, way.replace(/<tag k="tunnel" v="yes"\/>/, '')),
    );
    expect(boremark(['compare', demo, newer, '-o', file]).status).toBe(0);
    const { attribution, complexes, beacons } = read();
    expect(attribution).toMatch(/Aldermouth/);
    expect(complexes).toMatchObject([{ id: 't1900003004', change: 'vanished' }]);
    expect(beacons.every(({ change }) => change === 'removed')).toBe(true);
    const both = boremark(['compare', '-', '-', '-o', file]);
    expect([both.status, both.stderr]).toEqual([1, expect.stringMatching(/only one of the two/)]);
  });
});
