import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeNewerExtract, readDemo } from './make-newer-extract.ts';
import { layer, mapIdle, open, saved, selected } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)(
  'a survey that changes, in the browser (skipped where there is no Chromium)',
  () => {
    let app: RunningApp;
    beforeAll(async () => {
      app = await startApp(chromium as string);
    });
    afterAll(() => app?.stop());

    it('splits a tunnel, joins two, and takes both back; designs come along', async () => {
      const { page, faults, close } = await open(app);
      const count = (await layer(app, 'complexes')).length;
      await page.getByRole('gridcell', { name: 'Tolland Tunnel' }).first().click();
      await page.getByText('22 beacons at 40 m').waitFor();
      await page.getByRole('spinbutton', { name: 'Spacing' }).fill('30');
      await page.getByRole('spinbutton', { name: 'Spacing' }).press('Enter');
      await saved(page);
      await page.getByText('Why this is one tunnel').click();
      await page.getByRole('button', { name: /^Split: Tolland Road/ }).click();
      const done = page.getByRole('status').filter({ hasText: 'are tunnels of their own now' });
      await done.waitFor();
      await expect.poll(async () => (await layer(app, 'complexes')).length).toBe(count + 1);
      await page.getByText('split by hand from').waitFor();
      // The rule of the whole is the rule of the part.
      await page.getByText(/beacons at 30 m/).waitFor();

      await page.getByRole('button', { name: /^Undo: split by hand/ }).click();
      await page.getByRole('status').filter({ hasText: 'Undone.' }).waitFor();
      await page.getByRole('button', { name: /^Split: Tolland Road/ }).waitFor();
      expect(await layer(app, 'complexes')).toHaveLength(count);

      await page.getByRole('button', { name: 'Join with another tunnel…' }).click();
      await page.getByRole('searchbox', { name: /^Join Tolland Tunnel with/ }).fill('quayside');
      await page.getByRole('button', { name: /^Quayside Tunnel/ }).click();
      await page
        .getByRole('status')
        .filter({ hasText: '“Tolland Tunnel” and “Quayside Tunnel” are one tunnel now' })
        .waitFor();
      expect(await layer(app, 'complexes')).toHaveLength(count - 1);
      // The notice itself takes it back.
      await page.locator('.banners').getByRole('button', { name: 'Undo' }).click();
      await page.getByRole('status').filter({ hasText: 'Undone.' }).waitFor();
      expect(await layer(app, 'complexes')).toHaveLength(count);
      expect(faults).toEqual([]);
      await close();
    });

    it('discards a newer extract, says that nothing changed, and refuses what is none', async () => {
      const { page, faults, close } = await open(app, { viewport: { width: 390, height: 844 } });
      const upload = async (name: string, text: string) => {
        await page.getByRole('button', { name: /Aldermouth/ }).click();
        await page.getByRole('button', { name: 'Newer map data…' }).click();
        await page
          .locator('dialog[open] input[type=file]')
          .setInputFiles({ name, mimeType: 'application/xml', buffer: Buffer.from(text) });
      };
      await upload('page.osm', '<!doctype html><html><body>busy</body></html>');
      await page.getByText('page.osm was not taken as newer map data').waitFor();
      await page.getByRole('button', { name: 'Dismiss' }).first().click();
      await upload('same.osm', readDemo());
      await page.getByText('Nothing changed for the tunnels of this survey').waitFor();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
      await page.getByRole('button', { name: 'Discard' }).click();
      await page.getByRole('grid', { name: 'Tunnels' }).waitFor();
      await page.reload();
      await page.getByRole('grid', { name: 'Tunnels' }).waitFor();
      expect(await page.getByText('A newer extract waits').count()).toBe(0);
      expect(faults).toEqual([]);
      await close();
    });

    it('compares a newer extract, in metres, and moves nothing before it is adopted', async () => {
      const { page, faults, close } = await open(app);
      await page.getByRole('gridcell', { name: 'Wrenlow Tunnel' }).click();
      await page.getByText('24 beacons at 40 m').waitFor();
      // One beacon by hand, and what it keeps: undo and redo know that choice.
      const id = await moveBeacon(page);
      await page.getByRole('radio', { name: 'place' }).check();
      await saved(page);
      await page.getByRole('button', { name: 'Undo' }).click();
      await expect.poll(() => page.getByRole('radio', { name: 'chainage' }).isChecked()).toBe(true);
      await page.getByRole('button', { name: 'Redo' }).click();
      await expect.poll(() => page.getByRole('radio', { name: 'place' }).isChecked()).toBe(true);
      await page.getByRole('button', { name: 'Undo' }).click();
      await expect.poll(() => page.getByRole('radio', { name: 'chainage' }).isChecked()).toBe(true);
      await saved(page);
      const before = await layer(app, 'beacons');
      const placeOf = (features: typeof before) =>
        features.find(({ properties }) => properties.locked === true)?.properties;
      expect(placeOf(before)).toMatchObject({ beacon: id });
      await page.getByRole('button', { name: /All tunnels/ }).click();

      await page.getByRole('button', { name: /Aldermouth/ }).click();
      await page.getByRole('button', { name: 'Newer map data…' }).click();
      await page.locator('dialog[open] input[type=file]').setInputFiles({
        name: 'aldermouth-march.osm',
        mimeType: 'application/xml',
        buffer: Buffer.from(makeNewerExtract()),
      });
      await page.getByRole('heading', { name: 'What changed' }).waitFor();
      await page.getByText(/link(s)? (split|moved).*by at most \d+\.\d m/).waitFor();
      await page.getByText(/beacons? (added|removed|moved).*by at most \d+\.\d m/).waitFor();
      await page.getByText('aldermouth-march.osm · map data of 2026-03-01').waitFor();

      await page.getByRole('radio', { name: /^Beacons/ }).check();
      const locked = page.getByRole('row').filter({ hasText: 'placed by hand' });
      await locked.filter({ hasText: 'keeps its chainage' }).waitFor();
      await mapIdle(page);
      await locked.click();
      await mapIdle(page);
      expect(new URL(page.url()).searchParams.get('map')).toMatch(/^1[5-9]/);
      expect(await layer(app, 'beacons')).toEqual(before);
      expect(await serious(page)).toEqual([]);

      // Left for later, it waits; the banner leads back.
      await page.getByRole('button', { name: 'Leave for later' }).click();
      await page.getByRole('gridcell', { name: 'Wrenlow Tunnel' }).waitFor();
      expect(await page.getByText('A newer extract waits').count()).toBe(0);
      await page.reload();
      await page.getByRole('button', { name: 'Look at what changed' }).click();
      await page.getByRole('button', { name: 'Adopt this extract' }).click();
      await page.getByRole('status').filter({ hasText: 'Adopted: the survey rests on' }).waitFor();
      await page.getByText('map data of 2026-03-01').first().waitFor();
      const after = await layer(app, 'beacons');
      expect(after).not.toEqual(before);
      expect(placeOf(after)).toBeDefined();
      // The way that was cut is one bore still, with both ways.
      const wrenlow = (await layer(app, 'complexes')).find((one) => one.properties.name === 'Wrenlow Tunnel');
      expect(wrenlow?.properties.osmWays).toContain(1_900_009_999);
      expect(faults).toEqual([]);
      await close();
    });
  },
);

/** Chooses a beacon of the list and moves it by keys. */
async function moveBeacon(page: Page): Promise<string> {
  await page
    .getByRole('row', { name: /^0\+\d\d\d/ })
    .nth(1)
    .click();
  // Behind the bend: the fourth from the end.
  for (const key of ['End', 'ArrowUp', 'ArrowUp', 'ArrowUp']) await page.keyboard.press(key);
  const id = await selected(page);
  await page.keyboard.press('Shift+]');
  await page.getByRole('radio', { name: 'chainage' }).waitFor();
  await saved(page);
  return id;
}

async function serious(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`);
}
