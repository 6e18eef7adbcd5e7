import { readFileSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import { unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layer, mapIdle, open, saved, selected } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('in the browser (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('opens, chooses a tunnel, changes the spacing, drags a beacon, undoes, exports', async () => {
    const { page, faults, close } = await open(app);
    await page.getByRole('gridcell', { name: 'Aldermouth Harbour Tunnel' }).first().click();
    await page.getByText('133 beacons at 40 m').waitFor();

    // Spacing: shown while it is typed, one edit when it is done.
    const spacing = page.getByRole('spinbutton', { name: 'Spacing' });
    await spacing.fill('100');
    await page.getByText('Laid at 80.0 m at most, closer than the spacing').waitFor();
    await spacing.fill('80');
    await page.getByText('68 beacons at 80 m').waitFor();
    await spacing.press('Enter');
    await saved(page);
    expect(await logOf(app, page)).toHaveLength(1);

    // A beacon of the list, then its diamond on the map: dragged along the bore, one edit on release.
    const row = page.getByRole('row', { name: /^0\+079/ }).first();
    await row.click();
    const before = await selected(page);
    await mapIdle(page);
    const from = await screenOf(page);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    for (let step = 1; step <= 8; step += 1) await page.mouse.move(from.x + step * 2, from.y - step * 3);
    await page.mouse.up();
    await saved(page);
    const log = await logOf(app, page);
    expect(log).toHaveLength(2);
    const slide = log[1] as { kind: string; beaconId: string; to: { chainageM: number; linkId: string } };
    expect(slide).toMatchObject({ kind: 'slideBeacon', beaconId: before });
    expect(slide.to.chainageM).not.toBeCloseTo(78.8, 0);
    const moved = (await layer(app, 'beacons')).find((f) => f.properties.beacon === before);
    expect(moved?.properties).toMatchObject({ locked: true, role: 'manual', link: slide.to.linkId });

    // The browser's worker and the server lay the same design.
    await page.getByText(/beacons at 80 m/).waitFor();

    // Undo the drag by button, the spacing by key; both survive a reload.
    await page.getByRole('button', { name: 'Undo' }).click();
    await saved(page);
    const back = (await layer(app, 'beacons')).find((f) => f.properties.beacon === before);
    expect(back?.properties).toMatchObject({ locked: false, role: 'spacing' });
    await page.reload();
    await page.getByText('68 beacons at 80 m').waitFor();
    await page.keyboard.press('Control+z');
    await page.getByText('133 beacons at 40 m').waitFor();
    await saved(page);

    // Export: the zip holds what the layer says.
    await page.getByRole('button', { name: 'Export' }).click();
    const dialog = page.getByRole('dialog', { name: /^Export/ });
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      dialog.getByRole('button', { name: 'Export', exact: true }).click(),
    ]);
    const files = unzipSync(new Uint8Array(readFileSync(await download.path())));
    const exported = JSON.parse(new TextDecoder().decode(files['beacons.geojson'])) as {
      features: unknown[];
    };
    expect(exported.features).toHaveLength((await layer(app, 'beacons')).length);
    expect(faults).toEqual([]);
    await close();
  });

  it('moves a beacon by keyboard alone', async () => {
    const { page, faults, close } = await open(app);
    await page.getByRole('searchbox', { name: 'Filter tunnels' }).fill('wrenlow');
    await page.getByRole('gridcell', { name: 'Wrenlow Tunnel' }).waitFor();
    await page.getByRole('searchbox', { name: 'Filter tunnels' }).press('Tab');
    for (let i = 0; i < 20 && !(await isInGrid(page)); i += 1) await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByText('24 beacons at 40 m').waitFor();
    for (let i = 0; i < 30 && !(await isInGrid(page)); i += 1) await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    const id = await selected(page);
    const at = async () =>
      Number((await layer(app, 'beacons')).find((f) => f.properties.beacon === id)?.properties.chainageM);
    const start = await at();
    await page.keyboard.press('Shift+Alt+ArrowRight');
    await page.keyboard.press('Alt+ArrowLeft');
    // Steps in quick succession become one edit.
    await expect.poll(at).toBeCloseTo(start + 9, 3);
    await page.keyboard.press('Control+z');
    await expect.poll(at).toBeCloseTo(start, 3);
    await page.keyboard.press('Control+Shift+z');
    await expect.poll(at).toBeCloseTo(start + 9, 3);
    await page.keyboard.press('Control+z');
    await expect.poll(at).toBeCloseTo(start, 3);
    expect(faults).toEqual([]);
    await close();
  });

  it('imports a file, lists what was left out, and refuses a bad one with a sentence', async () => {
    const { page, faults, close } = await open(app);
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    const place = new URL('../places/liechtenstein/liechtenstein.osm.pbf', import.meta.url).pathname;
    await page.locator('input[type=file]').setInputFiles(place);
    await page.getByRole('gridcell', { name: 'Bergstrasse' }).first().waitFor();
    await page.getByRole('button', { name: 'Report' }).click();
    await page.getByText('Tunnel for others than cars').first().waitFor();

    await page.getByRole('button', { name: 'Import', exact: true }).click();
    await page.locator('input[type=file]').setInputFiles({
      name: 'page.osm',
      mimeType: 'text/html',
      buffer: Buffer.from('<!doctype html><html><body>busy</body></html>'),
    });
    await page.getByText('page.osm is a web page, not map data').waitFor();
    expect(faults).toEqual([]);
    await close();
  });

  it('says so when the server is away, keeps the edit, and saves it when the server is back', async () => {
    const { page, close } = await open(app);
    await page.getByRole('gridcell', { name: 'Tolland Tunnel' }).first().click();
    await page.getByText('22 beacons at 40 m').waitFor();
    await page.route('**/api/**', (route) => route.abort());
    const spacing = page.getByRole('spinbutton', { name: 'Spacing' });
    await spacing.fill('30');
    await spacing.press('Enter');
    await page.getByText('1 edit not saved').waitFor();
    await page.unroute('**/api/**');
    await page.getByRole('button', { name: 'Try again' }).first().click();
    await saved(page);
    expect(await logOf(app, page)).toMatchObject([{ kind: 'setRule', value: 30 }]);
    await close();
  });

  it.each([
    ['light', 1440, 900],
    ['dark', 1440, 900],
    ['light', 390, 844],
    ['dark', 390, 844],
  ] as const)('has no serious accessibility fault: %s, %i × %i', async (colorScheme, width, height) => {
    const { page, faults, close } = await open(app, { colorScheme, viewport: { width, height } });
    const serious = async () => {
      const { violations } = await new AxeBuilder({ page }).analyze();
      return violations
        .filter(({ impact }) => impact === 'serious' || impact === 'critical')
        .map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`);
    };
    expect(await serious()).toEqual([]);
    await page.getByText('Quayside Tunnel').first().click();
    await page.getByText('55 beacons at 40 m').waitFor();
    expect(await serious()).toEqual([]);
    // Nothing reaches beyond the screen's side.
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    expect(await serious()).toEqual([]);
    expect(faults).toEqual([]);
    await close();
  });
});

/** Where the chosen beacon stands on the screen. */
async function screenOf(page: Page): Promise<{ x: number; y: number }> {
  const tag = page.getByTestId('selected-beacon');
  const box = await page.getByTestId('map').boundingBox();
  const x = Number(await tag.getAttribute('data-x')) + (box?.x ?? 0);
  const y = Number(await tag.getAttribute('data-y')) + (box?.y ?? 0);
  return { x, y };
}

async function isInGrid(page: Page): Promise<boolean> {
  return page.evaluate(
    () =>
      document.activeElement?.closest('[role=grid]') !== null &&
      document.activeElement?.getAttribute('role') === 'row',
  );
}

/** The edits that the server has of the tunnel that the page shows. */
async function logOf(app: RunningApp, page: Page): Promise<readonly unknown[]> {
  const tunnel = new URL(page.url()).searchParams.get('tunnel');
  const response = await fetch(`${app.url}/api/surveys/aldermouth/complexes/${tunnel}`);
  return ((await response.json()) as { scheme: { log: unknown[] } }).scheme.log;
}
