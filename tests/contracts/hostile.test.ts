import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'boremark-hostile-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** 1 GiB of one text again and again after a beginning that looks right, as gzip members (about 1 MB). */
function bomb(prefix: string, filler: string): Buffer {
  const whole = Math.floor((16 << 20) / filler.length) * filler.length;
  const block = gzipSync(Buffer.alloc(whole, filler), { level: 9 });
  return Buffer.concat([gzipSync(prefix), ...Array.from({ length: 64 }, () => block)]);
}

const cut = () => {
  const whole = readFileSync(join(root, 'tests/places/liechtenstein/liechtenstein.osm.pbf'));
  return whole.subarray(0, whole.length - 1000);
};

const CASES: readonly (readonly [string, () => Buffer | string, RegExp])[] = [
  ['zeros.osm.gz', () => bomb('', '\0'), /zeros\.osm\.gz/],
  ['spaces.osm.gz', () => bomb('<?xml version="1.0"?><osm version="0.6">', ' '), /spaces\.osm\.gz/],
  [
    'nodes.osm.gz',
    () => bomb('<osm version="0.6">', '<node id="1" lat="1" lon="1"/>'),
    /expands to more than/,
  ],
  ['json.osm.gz', () => bomb('{"elements":[', ' '), /expands to more than/],
  [
    'text.osm.gz',
    () => bomb('<osm version="0.6"><node id="1" lat="1" lon="1"><tag k="name" v="', 'a'),
    /text\.osm\.gz/,
  ],
  ['cut.osm.pbf', cut, /ends early/],
  [
    'entities.osm',
    () =>
      `<?xml version="1.0"?><!DOCTYPE osm [<!ENTITY a "aaaaaaaaaa">${'bcdefgh'
        .split('')
        .map((name, i) => `<!ENTITY ${name} "${`&${'abcdefg'[i]};`.repeat(10)}">`)
        .join('')}]><osm version="0.6">&h;</osm>`,
    /defines XML entities/,
  ],
  ['deep.json', () => '['.repeat(5e6), /deep\.json/],
  ['far.osm', () => far(), /position outside the globe/],
];

function far(): string {
  const nodes = '<node id="1" lat="5100000" lon="700000"/><node id="2" lat="5100100" lon="700000"/>';
  return `<osm version="0.6">${nodes}<way id="3"><nd ref="1"/><nd ref="2"/><tag k="highway" v="primary"/><tag k="tunnel" v="yes"/></way></osm>`;
}

describe('hostile files', () => {
  it.each(CASES)('%s is refused in one line within 600 MB', async (name, make, words) => {
    writeFileSync(join(folder, name), make());
    const run = await survey(name);
    expect(run.stderr).toMatch(words);
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
    expect(run.code).toBe(1);
    expect(run.peakMb).toBeLessThan(600);
  });
});

/** Runs the built command line and watches its resident memory in /proc. */
function survey(name: string): Promise<{ code: number | null; stderr: string; peakMb: number }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(root, 'dist/server/cli.js'), 'survey', name, '-o', 'out'], {
      cwd: folder,
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    let stderr = '';
    let peakMb = 0;
    child.stderr.on('data', (chunk: Buffer) => {
      stderr += chunk;
    });
    const watch = setInterval(() => {
      try {
        const status = readFileSync(`/proc/${child.pid}/status`, 'utf8');
        peakMb = Math.max(peakMb, Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1] ?? 0) / 1024);
      } catch {
        // The process has ended between two looks.
      }
    }, 10);
    child.on('close', (code) => {
      clearInterval(watch);
      resolve({ code, stderr, peakMb });
    });
  });
}
