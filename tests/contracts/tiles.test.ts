import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { VectorTile } from '@mapbox/vector-tile';
import type { Feature, FeatureCollection, Position } from 'geojson';
import { PbfReader } from 'pbf';
import { pino } from 'pino';
import { beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '../../server/app.ts';
import { seedDemo } from '../../server/seed-demo.ts';
import { openInMemory } from '../../server/store/open-embedded.ts';
import { boundsOf } from '../../shared/geodesy/bounds-of.ts';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { localDelta } from '../../shared/geodesy/segment.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';

const root = join(import.meta.dirname, '../..');
const SURVEY = 'aldermouth';

const { app, surveys } = createApp({
  store: await openInMemory(),
  overpass: { ask: async () => refused(refusal('overpass-busy')) },
  log: pino({ level: 'silent' }),
  uploadLimitBytes: 1e6,
  version: '0.0.0',
  now: () => new Date('2026-01-01T00:00:00Z'),
});
const layers = new Map<string, FeatureCollection>();
beforeAll(async () => {
  await seedDemo(surveys, root);
  for (const layer of ['complexes', 'bores', 'portals', 'decisions', 'beacons']) {
    const answer = await app.request(`/api/surveys/${SURVEY}/layers/${layer}`);
    layers.set(layer, (await answer.json()) as FeatureCollection);
  }
}, 60_000);

const ask = (path: string, headers: Record<string, string> = {}) => app.request(path, { headers });
const tilePath = (layer: string, z: number, x: number, y: number) =>
  `/tiles/${layer}/${z}/${x}/${y}?survey=${SURVEY}`;

/** The slippy map's formulas, from memory: x by longitude, y by the Mercator of latitude. */
function findTile([lon, lat]: Position, z: number): [number, number] {
  const rad = ((lat as number) * Math.PI) / 180;
  const [x, y] = [((lon as number) + 180) / 360, (1 - Math.asinh(Math.tan(rad)) / Math.PI) / 2];
  return [Math.floor(x * 2 ** z), Math.floor(y * 2 ** z)];
}

async function readTile(layer: string, z: number, x: number, y: number): Promise<Record<string, Feature[]>> {
  const answer = await ask(tilePath(layer, z, x, y));
  if (answer.status === 204) return {};
  expect(answer.status).toBe(200);
  const tile = new VectorTile(new PbfReader(new Uint8Array(await answer.arrayBuffer())));
  return Object.fromEntries(
    Object.entries(tile.layers).map(([name, found]) => [
      name,
      Array.from({ length: found.length }, (_, i) => found.feature(i).toGeoJSON(x, y, z)),
    ]),
  );
}

/** Every tile of the demo city at one zoom. */
function listTiles(z: number): [number, number][] {
  const points = (layers.get('decisions') as FeatureCollection).features
    .concat((layers.get('beacons') as FeatureCollection).features)
    .map(({ geometry }) => (geometry as { coordinates: Position }).coordinates as unknown as LonLat);
  const [west, south, east, north] = boundsOf([points]);
  const [x0, y0] = findTile([west, north], z);
  const [x1, y1] = findTile([east, south], z);
  const tiles: [number, number][] = [];
  for (let x = x0; x <= x1; x++) for (let y = y0; y <= y1; y++) tiles.push([x, y]);
  return tiles;
}

const metresApart = (a: Position, b: Position) => {
  const { east, north } = localDelta(a as unknown as LonLat, b as unknown as LonLat);
  return Math.hypot(east, north);
};

describe('vector tiles', () => {
  it('hold every point of the layers once where it lies, to 20 cm, with what is known of it', async () => {
    const found = new Map<string, Feature>();
    for (const [x, y] of listTiles(16)) {
      for (const [layer, features] of Object.entries(await readTile('tunnels', 16, x, y))) {
        for (const feature of features) {
          const { coordinates } = feature.geometry as { coordinates: Position };
          if (feature.geometry.type !== 'Point' || layer === 'branches') continue;
          // Those of the neighbours, which are drawn at the edge, too.
          if (String(findTile(coordinates, 16)) !== String([x, y])) continue;
          const key = `${layer} ${feature.properties?.id}`;
          expect(found.has(key), key).toBe(false);
          found.set(key, feature);
        }
      }
    }
    for (const layer of ['portals', 'decisions', 'beacons']) {
      const { features } = layers.get(layer) as FeatureCollection;
      expect(features.length).toBeGreaterThan(10);
      for (const { id, geometry, properties } of features) {
        const drawn = found.get(`${layer} ${id}`);
        const { coordinates } = geometry as { coordinates: Position };
        if (drawn === undefined) throw new Error(`${layer} ${id} is in no tile`);
        expect(
          metresApart((drawn.geometry as { coordinates: Position }).coordinates, coordinates),
        ).toBeLessThan(0.2);
        const scalars = Object.entries(properties ?? {}).filter(([, value]) => typeof value !== 'object');
        const { misguidedShare: _, ...rest } = Object.fromEntries(
          scalars.filter(([name]) => !/^(misguided|failing)Share/.test(name)),
        );
        expect(drawn.properties).toMatchObject(rest);
      }
    }
    expect(found.size).toBe(
      ['portals', 'decisions', 'beacons'].reduce((sum, l) => sum + (layers.get(l)?.features.length ?? 0), 0),
    );
  }, 60_000);

  it('show bores at every zoom, by how far their tunnel is equipped, and the rest only from near', async () => {
    const bore = layers.get('bores')?.features[0] as Feature;
    const at = (bore.geometry as { coordinates: Position[] }).coordinates[0] as Position;
    const looks = new Set<unknown>();
    for (const z of [0, 6, 11, 12, 14, 16]) {
      const tile = await readTile('tunnels', z, ...findTile(at, z));
      expect(tile.bores?.length).toBeGreaterThan(0);
      expect('beacons' in tile).toBe(z >= 12);
      expect(z < 14 && 'branches' in tile).toBe(false);
      for (const { properties } of tile.bores ?? []) looks.add(properties?.look);
    }
    expect([...looks].sort()).toEqual(expect.arrayContaining(['planned', 'undesigned']));
    const ids = new Set<unknown>();
    for (const [x, y] of listTiles(10)) {
      for (const { properties } of (await readTile('bores', 10, x, y)).bores ?? [])
        ids.add(properties?.complex);
    }
    expect([...ids].sort()).toEqual((layers.get('complexes')?.features ?? []).map(({ id }) => id).sort());
    expect(Object.keys(await readTile('beacons', 16, ...findTile(at, 16)))).toEqual(['beacons']);
  });

  it('change with an edit, and are not sent again while nothing does', async () => {
    const beacon = layers.get('beacons')?.features[0] as Feature;
    const place = findTile((beacon.geometry as { coordinates: Position }).coordinates, 14);
    const path = tilePath('beacons', 14, ...place);
    const first = await ask(path);
    const tag = first.headers.get('etag') ?? '';
    expect((await ask(path, { 'if-none-match': tag })).status).toBe(304);
    const tunnel = `/api/surveys/${SURVEY}/complexes/${encodeURIComponent(beacon.properties?.complex)}`;
    const { scheme } = (await (await ask(tunnel)).json()) as { scheme: Scheme };
    const edited = await app.request(`${tunnel}/commands`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({
        baseRevision: scheme.revision,
        commands: [{ kind: 'setRule', commandId: 'command-1', rule: 'spacingM', value: 80 }],
      }),
    });
    expect(edited.status).toBe(200);
    const after = await ask(path, { 'if-none-match': tag });
    expect(after.status).toBe(200);
    const count = async (answer: Response) =>
      new VectorTile(new PbfReader(new Uint8Array(await answer.arrayBuffer()))).layers.beacons?.length ?? 0;
    expect(await count(after)).toBeLessThan(await count(first));
  });

  it('come packed where the client takes that', async () => {
    const packed = await ask(tilePath('bores', 0, 0, 0), { 'accept-encoding': 'gzip' });
    expect(packed.headers.get('content-encoding')).toBe('gzip');
    expect(packed.headers.get('content-type')).toBe('application/vnd.mapbox-vector-tile');
    const plain = await ask(tilePath('bores', 0, 0, 0));
    expect(gunzipSync(Buffer.from(await packed.arrayBuffer()))).toEqual(
      Buffer.from(await plain.arrayBuffer()),
    );
  });

  it('have nothing to say of the sea', async () => {
    expect((await ask(tilePath('tunnels', 10, 0, 0))).status).toBe(204);
  });

  it.each([
    ['/tiles/tunnels/0/0/0', 400],
    ['/tiles/tunnels/17/0/0?survey=aldermouth', 400],
    ['/tiles/tunnels/3/8/0?survey=aldermouth', 400],
    ['/tiles/tunnels/3/-1/0?survey=aldermouth', 400],
    ['/tiles/tunnels/3/1e1/0?survey=aldermouth', 400],
    ['/tiles/tunnels/NaN/0/0?survey=aldermouth', 400],
    ['/tiles/everything/0/0/0?survey=aldermouth', 400],
    ['/tiles/tunnels/0/0/0?survey=nowhere', 404],
    ['/tiles/tunnels/0/0', 404],
  ])('%s is refused with %i and a reason', async (path, status) => {
    const answer = await ask(path);
    expect(answer.status).toBe(status);
    expect(((await answer.json()) as { detail: string }).detail).toMatch(/\w{3}/);
  });

  // Outside: GDAL's MVT driver (gdal.org/drivers/vector/mvt.html) reads the same features from the same bytes.
  it('are read by GDAL', async ({ skip }) => {
    if (spawnSync('ogrinfo', ['--version']).status !== 0) {
      if (process.env.CI) throw new Error('CI must have GDAL (install Debian’s gdal-bin)');
      return skip('ogrinfo was not found');
    }
    const folder = mkdtempSync(join(tmpdir(), 'boremark-tiles-'));
    try {
      const [beacon] = (layers.get('beacons') as FeatureCollection).features as [Feature];
      const [x, y] = findTile((beacon.geometry as { coordinates: Position }).coordinates, 14);
      const file = join(folder, `${y}.mvt`);
      writeFileSync(file, Buffer.from(await (await ask(tilePath('tunnels', 14, x, y))).arrayBuffer()));
      const own = await readTile('tunnels', 14, x, y);
      for (const layer of ['bores', 'portals', 'beacons']) {
        const text = execFileSync(
          'ogr2ogr',
          ['-f', 'GeoJSON', '-oo', 'CLIP=NO', '/vsistdout/', file, layer],
          {
            encoding: 'utf8',
          },
        );
        const { features } = JSON.parse(text) as FeatureCollection;
        const tell = (list: readonly Feature[]) => list.map(({ properties }) => properties?.id).sort();
        expect(features.length).toBeGreaterThan(0);
        expect(tell(features)).toEqual(tell(own[layer] ?? []));
      }
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
