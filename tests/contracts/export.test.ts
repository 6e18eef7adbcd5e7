import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { check } from '@placemarkio/check-geojson';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { unzipSync } from 'fflate';
import Papa from 'papaparse';
import { SaxesParser } from 'saxes';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EXPORTED_LAYERS } from '../../shared/wire/layers.ts';
import { describeByGdal, HOSTILE, hasGdal, openExportApp, type Read, readByGdal } from './export-app.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-export-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const { app, demoId } = await openExportApp();

type Collection = {
  readonly attribution: string;
  readonly features: readonly (Read & { readonly id: string })[];
};

async function ask(request: object, id = demoId) {
  return app.request(`/api/surveys/${id}/export`, {
    method: 'POST',
    body: JSON.stringify(request),
    headers: { 'content-type': 'application/json' },
  });
}

async function bytesOf(request: object, id = demoId): Promise<Uint8Array> {
  const response = await ask(request, id);
  if (response.status !== 200) throw new Error(await response.text());
  return new Uint8Array(await response.arrayBuffer());
}

const textOf = async (request: object, id = demoId) => new TextDecoder().decode(await bytesOf(request, id));

async function save(name: string, request: object, id = demoId): Promise<string> {
  const path = join(folder, name);
  writeFileSync(path, await bytesOf(request, id));
  return path;
}

/** What the API says of a layer: held against every format. */
const layers = new Map<string, Collection>();
beforeAll(async () => {
  for (const layer of EXPORTED_LAYERS) {
    const response = await app.request(`/api/surveys/${demoId}/layers/${layer}`);
    layers.set(layer, (await response.json()) as Collection);
  }
}, 60_000);
const featuresOf = (layer: string) => (layers.get(layer) as Collection).features;

/** Throws where the text is not well-formed; gives each element's name and text in order. */
function readXml(text: string): { name: string; text: string; parent: string }[] {
  const found: { name: string; text: string; parent: string }[] = [];
  const open: { name: string; text: string; parent: string }[] = [];
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name }) => {
    const element = { name, text: '', parent: open.at(-1)?.name ?? '' };
    found.push(element);
    open.push(element);
  });
  parser.on('text', (piece) => {
    const last = open.at(-1);
    if (last !== undefined) last.text += piece;
  });
  parser.on('closetag', () => void open.pop());
  parser.write(text).close();
  return found;
}

describe('the package', () => {
  it('has every file, and each layer is what the API says, by its own schema', async () => {
    const files = unzipSync(await bytesOf({}));
    expect(Object.keys(files).sort()).toEqual(
      [
        ...EXPORTED_LAYERS.map((layer) => `${layer}.geojson`),
        ...EXPORTED_LAYERS.map((layer) => `schemas/${layer}.json`),
        'survey.csv',
        'import-report.json',
        'summary.json',
        'README.txt',
        'LICENCE.txt',
      ].sort(),
    );
    const text = (name: string) => new TextDecoder().decode(files[name]);
    const ajv = new Ajv2020({ strict: false, formats: { 'date-time': true } });
    for (const layer of EXPORTED_LAYERS) {
      const collection = JSON.parse(text(`${layer}.geojson`)) as Collection;
      check(text(`${layer}.geojson`));
      expect(collection, layer).toEqual(layers.get(layer));
      const { $id: _, ...schema } = JSON.parse(text(`schemas/${layer}.json`));
      const holds = ajv.compile(schema);
      expect(holds(collection), `${layer}: ${ajv.errorsText(holds.errors)}`).toBe(true);
      // A schema that takes anything would prove nothing.
      expect(holds({ ...collection, attribution: 1 })).toBe(false);
      expect(text('README.txt')).toContain(`${layer}.geojson`);
    }
    expect(text('LICENCE.txt')).toContain('invented demo data');
  });

  it('names OpenStreetMap and says what its licence asks', async () => {
    const files = unzipSync(await bytesOf({}, 's'));
    const licence = new TextDecoder().decode(files['LICENCE.txt']);
    expect(licence).toContain('© OpenStreetMap contributors');
    expect(licence).toContain('Open Database License');
    expect(licence).toContain('https://www.openstreetmap.org/copyright');
    for (const name of Object.keys(files)) {
      expect(name).toMatch(/^(schemas\/)?[a-z-]+\.(geojson|json|csv)$|^(README|LICENCE)\.txt$/);
    }
  });

  it('holds the chosen tunnels and layers alone', async () => {
    const [one, two] = featuresOf('complexes').map(({ id }) => id) as [string, string];
    const files = unzipSync(await bytesOf({ tunnels: [two, one], layers: ['beacons', 'complexes'] }));
    const read = (name: string) => JSON.parse(new TextDecoder().decode(files[name]));
    expect((read('complexes.geojson') as Collection).features.map(({ id }) => id)).toEqual([one, two]);
    const wanted = featuresOf('beacons').filter(({ properties }) =>
      [one, two].includes(properties.complex as string),
    );
    expect((read('beacons.geojson') as Collection).features).toEqual(wanted);
    expect(Object.keys(files)).not.toContain('portals.geojson');
    expect(read('summary.json')).toMatchObject({ complexes: 2, beacons: wanted.length });
    const rows = new TextDecoder().decode(files['survey.csv']).trim().split('\r\n');
    expect(rows).toHaveLength(3);
  });

  it('is the same by a link', async () => {
    const [one, two] = featuresOf('complexes').map(({ id }) => id) as [string, string];
    const link = `/api/surveys/${demoId}/export?tunnels=${one},${two}&layers=portals&format=geojson`;
    const linked = await app.request(link);
    expect(linked.headers.get('content-disposition')).toBe('attachment; filename="aldermouth.geojson"');
    expect(await linked.text()).toBe(
      await textOf({ tunnels: [one, two], layers: ['portals'], format: 'geojson' }),
    );
  });
});

describe('GeoJSON as one file', () => {
  it('has every feature of every layer, once', async () => {
    const text = await textOf({ format: 'geojson' });
    check(text);
    const { features, attribution } = JSON.parse(text) as Collection;
    expect(attribution).toContain('Aldermouth');
    expect(new Set(features.map(({ id }) => id)).size).toBe(features.length);
    for (const layer of EXPORTED_LAYERS) {
      const own = features.filter(({ properties }) => properties.collection === layer);
      expect(own.map(({ id }) => id)).toEqual(featuresOf(layer).map(({ id }) => `${layer}/${id}`));
      expect(own.map(({ geometry }) => geometry)).toEqual(featuresOf(layer).map(({ geometry }) => geometry));
    }
  });

  it('of one layer is that layer', async () => {
    expect(JSON.parse(await textOf({ format: 'geojson', layers: ['decisions'] }))).toEqual(
      layers.get('decisions'),
    );
  });
});

describe('CSV', () => {
  const parse = (text: string) =>
    Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ''), { header: true, skipEmptyLines: true });

  it('of one layer is a table with a row for each feature', async () => {
    const { data, errors } = parse(await textOf({ format: 'csv', layers: ['beacons'] }));
    expect(errors).toEqual([]);
    expect(data).toHaveLength(featuresOf('beacons').length);
    featuresOf('beacons').forEach(({ id, geometry, properties }, i) => {
      const row = data[i] as Record<string, string>;
      expect([row.id, Number(row.lon), Number(row.lat)]).toEqual([id, ...(geometry.coordinates as number[])]);
      expect(Number(row.chainageM)).toBe(properties.chainageM);
      expect(row.side).toBe(properties.side);
    });
  });

  it('of several is a zip of tables, with the licence', async () => {
    const files = unzipSync(await bytesOf({ format: 'csv' }));
    expect(Object.keys(files).sort()).toEqual(
      [...EXPORTED_LAYERS.map((layer) => `${layer}.csv`), 'LICENCE.txt'].sort(),
    );
    for (const layer of EXPORTED_LAYERS) {
      const { data, errors } = parse(new TextDecoder().decode(files[`${layer}.csv`]));
      expect(errors).toEqual([]);
      expect(data.map(({ id }) => id)).toEqual(featuresOf(layer).map(({ id }) => id));
    }
  });
});

describe.skipIf(!hasGdal)('what GDAL reads (skipped where ogrinfo is not installed)', () => {
  it('from the GeoPackage: every layer, id, field and position', async () => {
    const path = await save('city.gpkg', { format: 'gpkg' });
    const said = describeByGdal(path);
    expect(said).toContain('using driver `GPKG');
    for (const layer of EXPORTED_LAYERS) {
      const read = new Map(readByGdal(path, layer).map((one) => [one.properties.id, one]));
      expect(read.size, layer).toBe(featuresOf(layer).length);
      for (const { id, geometry, properties } of featuresOf(layer)) {
        const found = read.get(id) as Read;
        expect(found.geometry.type).toBe(geometry.type);
        expectNear(found.geometry.coordinates, geometry.coordinates);
        for (const [name, value] of Object.entries(properties)) {
          const told = found.properties[name];
          // GDAL hands text that is JSON on as what it says.
          expect(
            typeof value === 'object' && typeof told === 'string' ? JSON.parse(told) : told,
            `${id} ${name}`,
          ).toEqual(value);
        }
      }
    }
  });

  it('from the GeoPackage: valid geometry, WGS84, and who has to be named', async () => {
    const path = await save('s.gpkg', { format: 'gpkg' }, 's');
    for (const layer of ['complexes', 'bores', 'beacons', 'coverage']) {
      const sql = `select count(*) as n, sum(ST_IsValid(geom)) as valid, min(ST_SRID(geom)) as srid from "${layer}"`;
      const said = describeByGdal(path, '-q', '-dialect', 'sqlite', '-sql', sql);
      const [, n, valid, srid] =
        /n \(Integer\) = (\d+)\s+valid \(Integer\) = (\d+)\s+srid \(Integer\) = (-?\d+)/.exec(said) ?? [];
      expect([Number(n) > 0, valid, srid], layer).toEqual([true, n, '4326']);
    }
    expect(describeByGdal(path, '-so', '-al')).toContain('© OpenStreetMap contributors');
    const sql = 'select metadata from gpkg_metadata';
    expect(describeByGdal(path, '-q', '-sql', sql)).toContain('Open Database License');
    const [tunnel] = readByGdal(path, 'complexes');
    expect(tunnel?.properties.name).toBe(HOSTILE);
  });

  it.each(['kml', 'gpx'])('from %s: every point and its name', async (format) => {
    const path = await save(`city.${format}`, { format, layers: ['portals', 'beacons'] });
    const named = /^\d+: (.+) \(/gm;
    const found =
      format === 'gpx'
        ? readByGdal(path, 'waypoints')
        : [...new Set([...describeByGdal(path).matchAll(named)].map(([, name]) => name as string))].flatMap(
            (name) => readByGdal(path, name),
          );
    expect(found.length).toBeGreaterThan(100);
    if (format === 'gpx') {
      expect(found).toHaveLength(featuresOf('portals').length + featuresOf('beacons').length);
      const places = found.map(({ geometry }) => (geometry.coordinates as number[]).slice(0, 2).join(' '));
      const wanted = [...featuresOf('portals'), ...featuresOf('beacons')].map(({ geometry }) =>
        (geometry.coordinates as number[]).join(' '),
      );
      expect(places.sort()).toEqual(wanted.sort());
    }
    expect(found.every(({ properties }) => String(properties.name ?? properties.Name).length > 5)).toBe(true);
  });
});

describe('KML and GPX', () => {
  it('KML: a folder for each tunnel, points and lines by name', async () => {
    const elements = readXml(await textOf({ format: 'kml' }));
    const count = (name: string) => elements.filter((one) => one.name === name).length;
    const marks = ['bores', 'portals', 'decisions', 'features', 'beacons'].map(
      (layer) => featuresOf(layer).length,
    );
    expect(count('Placemark')).toBe(marks.reduce((sum, one) => sum + one, 0));
    expect(count('LineString')).toBe(featuresOf('bores').length);
    const names = elements.filter(({ name, parent }) => name === 'name' && parent === 'Folder');
    expect(names.map(({ text }) => text)).toContain('Kell Hill Interchange');
    expect(
      elements.some(({ name, text }) => name === 'name' && /^Beacon \d\+\d{3} (left|right)$/.test(text)),
    ).toBe(true);
  });

  it('GPX: elements in the order of the schema', async () => {
    const text = await textOf({ format: 'gpx' }, 's');
    const elements = readXml(text);
    const top = elements.filter(({ parent }) => parent === 'gpx').map(({ name }) => name);
    expect(top[0]).toBe('metadata');
    expect(new Set(top.slice(1))).toEqual(new Set(['wpt']));
    expect(elements.filter(({ parent }) => parent === 'metadata').map(({ name }) => name)).toEqual([
      'name',
      'desc',
      'copyright',
    ]);
    const inPoint = elements.filter(({ parent }) => parent === 'wpt').map(({ name }) => name);
    expect(inPoint.join(' ')).toMatch(/^(name desc type ?)+$/);
    expect(text).toContain('© OpenStreetMap contributors');
  });
});

describe('a hostile name', () => {
  it('is text in XML, no formula in a table, and no path', async () => {
    for (const format of ['kml', 'gpx']) {
      const response = await ask({ format }, 's');
      const text = await response.text();
      expect(text).not.toContain('<script>');
      const names = readXml(text).filter(({ name }) => name === 'name');
      expect(names.some((one) => one.text.includes(HOSTILE))).toBe(true);
      expect(response.headers.get('content-disposition')).toBe(
        `attachment; filename="cmd-c-calc-a0-script-alert-1-script-..-..-x.${format}"`,
      );
    }
    const csv = await textOf({ format: 'csv', layers: ['complexes'] }, 's');
    const [row] = Papa.parse<Record<string, string>>(csv.replace(/^\uFEFF/, ''), { header: true }).data;
    expect(row?.name).toBe(`'${HOSTILE}`);
  });
});

describe('what cannot be handed over', () => {
  it.each([
    [{ format: 'dwg' }, 'hand-over-format', 'gpkg'],
    [{ layers: ['roads'] }, 'hand-over-layer', 'beacons'],
    [{ format: 'gpx', layers: ['coverage'] }, 'hand-over-misfit', 'portals'],
    [{ tunnels: ['t1', '../x'] }, 'hand-over-tunnel', 't1'],
    [{ tunnels: [] }, 'hand-over-empty', 'no tunnel is chosen'],
    [{ layers: [] }, 'hand-over-empty', 'no layer is chosen'],
    [{ tunnels: 'all' }, 'request-invalid', 'tunnels'],
  ])('%j is refused with %s', async (request, code, word) => {
    const response = await ask(request);
    const problem = (await response.json()) as { code: string; detail: string };
    expect([response.status, problem.code]).toEqual([400, code]);
    expect(problem.detail).toContain(word);
  });

  it('says so where the chosen tunnels have nothing of the chosen layers', async () => {
    const response = await ask({ layers: ['features'] }, 's');
    expect([response.status, ((await response.json()) as { code: string }).code]).toEqual([
      400,
      'hand-over-empty',
    ]);
  });

  it('has an unknown survey', async () => {
    expect((await ask({}, 'nowhere')).status).toBe(404);
  });
});

describe('the preview', () => {
  const preview = async (request: object, id = demoId) => {
    const response = await app.request(`/api/surveys/${id}/export-preview`, {
      method: 'POST',
      body: JSON.stringify(request),
      headers: { 'content-type': 'application/json' },
    });
    return { status: response.status, body: (await response.json()) as { layers: Record<string, number> } };
  };

  it('counts what each layer has', async () => {
    const { body } = await preview({});
    for (const layer of EXPORTED_LAYERS) {
      expect([layer, body.layers[layer]]).toEqual([layer, featuresOf(layer).length]);
    }
    expect(body).toMatchObject({ tunnels: featuresOf('complexes').length, name: 'aldermouth' });
  });

  it('counts the chosen tunnels alone, and knows them', async () => {
    const [one] = featuresOf('complexes') as [Read & { id: string }];
    const { body } = await preview({ tunnels: [one.id] });
    expect(body).toMatchObject({ tunnels: 1, layers: { beacons: one.properties.beaconCount } });
    expect(await preview({ tunnels: ['t0'] })).toMatchObject({
      status: 400,
      body: { code: 'hand-over-tunnel' },
    });
  });
});

/** Positions to 1e-9 degrees: GDAL may write the last digit otherwise. */
function expectNear(read: unknown, wanted: unknown): void {
  if (typeof wanted === 'number') expect(read).toBeCloseTo(wanted, 8);
  else {
    expect((read as unknown[]).length).toBe((wanted as unknown[]).length);
    (wanted as unknown[]).forEach((one, i) => {
      expectNear((read as unknown[])[i], one);
    });
  }
}
