import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { OgcApiEndpoint } from '@camptocamp/ogc-client';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type RunningServer, runServer } from '../run-server.ts';
import { COLLECTIONS, type Feature } from './open-service.ts';

/** Other people's programs read the built server, as authorities do. */
const folder = mkdtempSync(join(tmpdir(), 'boremark-ogc-'));
let server: RunningServer;
let gdal: string | undefined;
beforeAll(async () => {
  gdal = findGdal();
  if (gdal === undefined && process.env.CI)
    throw new Error('CI must have ogrinfo (install Debian’s gdal-bin)');
  server = await runServer({ BOREMARK_DATA: folder });
}, 60_000);
afterAll(async () => {
  await server?.stop('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

function findGdal(): string | undefined {
  try {
    return execFileSync('ogrinfo', ['--version'], { encoding: 'utf8' });
  } catch {
    return undefined;
  }
}

const run = (program: string, ...args: readonly string[]) =>
  execFileSync(program, args, { encoding: 'utf8', maxBuffer: 2 ** 28, stdio: ['ignore', 'pipe', 'pipe'] });

async function readLayer(layer: string): Promise<readonly Feature[]> {
  const answer = await fetch(`${server.url}/api/surveys/aldermouth/layers/${layer}`);
  return ((await answer.json()) as { features: Feature[] }).features;
}

const toId = (exported: string) => `aldermouth.${exported.replace('/', '~')}`;

describe('GDAL', () => {
  it('lists the collections with their kinds of geometry', ({ skip }) => {
    if (gdal === undefined) return skip('ogrinfo was not found');
    const listed = run('ogrinfo', '-ro', `OAPIF:${server.url}/ogc`);
    expect(
      [...listed.matchAll(/^\d+: (\w+) .*\(([\w ]+)\)$/gm)].map(([, name, kind]) => [name, kind]),
    ).toEqual([
      ['complexes', 'Multi Line String'],
      ['bores', 'Line String'],
      ['portals', 'Point'],
      ['decisions', 'Point'],
      ['beacons', 'Point'],
    ]);
  });

  it.for(COLLECTIONS)('reads every feature of %s', async (collection, { skip }) => {
    if (gdal === undefined) return skip('ogrinfo was not found');
    const features = await readLayer(collection);
    const source = `OAPIF:${server.url}/ogc`;
    const told = run('ogrinfo', '-ro', '-oo', 'PAGE_SIZE=50', source, collection);
    expect(told).toContain(`Feature Count: ${features.length}\n`);
    const ids = [...told.matchAll(/^ {2}id \(String\) = (.+)$/gm)].map(([, id]) => id);
    expect(ids).toEqual(features.map(({ id }) => toId(id)));
    const copied = run(
      'ogr2ogr',
      '-f',
      'GeoJSON',
      '-lco',
      'COORDINATE_PRECISION=7',
      '/vsistdout/',
      source,
      collection,
    );
    const { features: read } = JSON.parse(copied) as { features: Feature[] };
    expect(read.map(({ geometry }) => geometry)).toEqual(features.map(({ geometry }) => geometry));
    for (const [i, { properties }] of read.entries()) {
      expect(properties).toMatchObject({ survey: 'aldermouth', id: toId(features[i]?.id ?? '') });
      expect(properties.complex).toEqual(features[i]?.properties.complex);
    }
  });

  it('has its box taken by the server', ({ skip }) => {
    if (gdal === undefined) return skip('ogrinfo was not found');
    const box = ['-20.05', '45.98', '-20', '46.01'];
    const told = run('ogrinfo', '-ro', '-so', '-spat', ...box, `OAPIF:${server.url}/ogc`, 'beacons');
    const count = Number(/Feature Count: (\d+)/.exec(told)?.[1]);
    expect(count).toBeGreaterThan(10);
    expect(count).toBeLessThan(800);
  });
});

describe('an OGC API client', () => {
  it('finds the collections and their extents', async () => {
    const endpoint = new OgcApiEndpoint(`${server.url}/ogc`);
    expect(await endpoint.hasFeatures).toBe(true);
    expect(await endpoint.featureCollections).toEqual([...COLLECTIONS]);
    expect((await endpoint.info).title).toContain('Boremark');
    const info = await endpoint.getCollectionInfo('beacons');
    expect(info.itemType).toBe('feature');
    expect(info.crs).toEqual(['http://www.opengis.net/def/crs/OGC/1.3/CRS84']);
    // The client's types promise a box, but it hands on what the collection says.
    const { spatial } = info.extent as unknown as { spatial: { bbox: number[][] } };
    expect(spatial.bbox[0]?.map(Math.round)).toEqual([-20, 46, -20, 46]);
  });

  it.each(COLLECTIONS)('reads %s page by page', async (collection) => {
    const endpoint = new OgcApiEndpoint(`${server.url}/ogc`);
    const expected = (await readLayer(collection)).map(({ id }) => toId(id));
    const ids: unknown[] = [];
    for (let offset = 0; offset < expected.length; offset += 100) {
      const page = await endpoint.getCollectionItems(collection, 100, offset);
      expect(page.length).toBe(Math.min(100, expected.length - offset));
      ids.push(...page.map(({ id }) => id));
    }
    expect(ids).toEqual(expected);
  });
});
