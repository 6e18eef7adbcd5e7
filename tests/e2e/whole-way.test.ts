import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawCityMap } from '../bench/draw-city.ts';
import { open } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

/** A map server of an invented city: tunnels with ramps, eight of them. */
function startMapServer(): Promise<{ readonly server: Server; readonly url: string; questions: string[] }> {
  const city = drawCityMap(8, { lengthM: 1200, ramps: 3, rampM: 250 });
  const answer = JSON.stringify({
    version: 0.6,
    generator: 'Overpass API of a test',
    osm3s: { timestamp_osm_base: '2026-01-01T00:00:00Z' },
    elements: [
      ...city.nodes.map((node) => ({ type: 'node', ...node })),
      ...city.ways.map((way) => ({ type: 'way', ...way })),
    ],
  });
  const questions: string[] = [];
  const server = createServer(async (request, response) => {
    let text = '';
    for await (const chunk of request) text += chunk;
    questions.push(new URLSearchParams(text).get('data') ?? '');
    response.writeHead(200, { 'content-type': 'application/json' }).end(answer);
  });
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      resolve({ server, url: `http://127.0.0.1:${port}/`, questions });
    });
  });
}

describe.skipIf(chromium === undefined)('the whole way (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  let map: Awaited<ReturnType<typeof startMapServer>>;
  beforeAll(async () => {
    map = await startMapServer();
    app = await startApp(chromium as string, { mapServer: map.url });
  });
  afterAll(async () => {
    await app?.stop();
    map?.server.close();
  });

  it('goes from an area over the tunnels and a programme to what an authority receives', async () => {
    const { page, faults, close } = await open(app);
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    await page.getByText('From an area').click();
    for (const [limit, value] of [
      ['West', '-20.01'],
      ['South', '45.95'],
      ['East', '-19.95'],
      ['North', '46.01'],
    ] as const) {
      await page.getByLabel(limit).fill(value);
    }
    await page.getByLabel('Name', { exact: true }).fill('Harrowgate');
    await page.getByText('The question that will be asked').click();
    const question = await page.locator('dialog pre').textContent();
    await page.getByRole('button', { name: 'Ask and import' }).click();
    await page.getByText('8 tunnels', { exact: true }).waitFor({ timeout: 60_000 });
    expect(map.questions).toEqual([question]);
    await page.getByRole('button', { name: /^Survey: Harrowgate/ }).waitFor();

    await page.getByRole('button', { name: 'Filters' }).click();
    await page.getByRole('spinbutton', { name: 'Rank to' }).fill('3');
    await page.keyboard.press('Escape');
    await page.getByText('3 of 8 tunnels').waitFor();

    await page
      .getByRole('gridcell', { name: /^Unnamed/ })
      .first()
      .click();
    await page.getByText(/^\d+ beacons at 40 m/).waitFor();
    await page.getByRole('button', { name: /All tunnels/ }).click();

    await page.getByRole('button', { name: 'Programme', exact: true }).click();
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByTestId('plan').waitFor({ timeout: 60_000 });
    expect(await page.getByTestId('plan').locator('.tunnel-link').count()).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Tunnels', exact: true }).click();
    await page.getByText('3 of 8 tunnels').waitFor();

    await page.getByRole('button', { name: 'Export' }).click();
    const dialog = page.getByRole('dialog', { name: 'Export Harrowgate' });
    await dialog.getByRole('radio', { name: /^Those in the table now \(3\)/ }).check();
    await dialog.getByText(/© OpenStreetMap contributors/).waitFor();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      dialog.getByRole('button', { name: 'Export', exact: true }).click(),
    ]);
    const files = unzipSync(readFileSync(await download.path()));
    const tunnels = JSON.parse(Buffer.from(files['complexes.geojson'] ?? []).toString()) as {
      attribution: string;
      features: { properties: { rank: number } }[];
    };
    expect(tunnels.features.map(({ properties }) => properties.rank).sort()).toEqual([1, 2, 3]);
    expect(tunnels.attribution).toContain('© OpenStreetMap contributors');

    const service = await fetch(
      `${app.url}/ogc/collections/complexes/items?f=json&limit=100&survey=${new URL(page.url()).searchParams.get('survey')}`,
    );
    expect(((await service.json()) as { numberMatched: number }).numberMatched).toBe(8);
    expect(faults).toEqual([]);
    await close();
  });
});
