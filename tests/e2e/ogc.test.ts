import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromium, type RunningApp, startApp, watchFaults } from './start-app.ts';

describe.skipIf(chromium === undefined)('the pages at /ogc (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it.each([
    [390, 'light'],
    [390, 'dark'],
    [1280, 'light'],
  ] as const)(
    'are read at %i px, %s: from the landing page to a feature and on',
    async (width, colorScheme) => {
      const context = await app.browser.newContext({ viewport: { width, height: 844 }, colorScheme });
      const page = await context.newPage();
      const faults = watchFaults(page);
      const check = async (heading: string) => {
        await page.getByRole('heading', { level: 1, name: heading, exact: true }).waitFor();
        const axe = await new AxeBuilder({ page }).analyze();
        expect([heading, axe.violations.map(({ id }) => id)]).toEqual([heading, []]);
        // A wide table moves in its own frame; the page does not.
        const room = await page.evaluate(() => [
          document.documentElement.scrollWidth,
          document.documentElement.clientWidth,
        ]);
        expect(room[0]).toBe(room[1]);
        await page.getByText('© OpenStreetMap contributors').waitFor();
      };
      await page.goto(`${app.url}/ogc`);
      await check('Boremark: road tunnels and their beacons');
      const dark = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
      expect(dark).toBe(colorScheme === 'dark' ? 'rgb(23, 28, 32)' : 'rgb(255, 255, 255)');
      const main = page.getByRole('main');
      await main.getByRole('link', { name: 'Description of the API' }).click();
      await check('Description of the API');
      await page.getByRole('link', { name: 'Start', exact: true }).click();
      await main.getByRole('link', { name: 'Conformance' }).click();
      await check('Conformance');
      await page.getByRole('link', { name: 'Start', exact: true }).click();
      await main.getByRole('link', { name: 'Collections' }).click();
      await check('Collections');
      await main.getByRole('link', { name: 'Tunnels', exact: true }).click();
      await check('Tunnels');
      await main.getByRole('link', { name: 'Look at the features' }).click();
      await check('Tunnels: Features');
      await main.getByRole('link', { name: 'Next page' }).click();
      await main.getByText('11–20 of 31').waitFor();
      const link = main.getByRole('rowheader').first().getByRole('link');
      const id = (await link.textContent()) ?? '';
      await link.click();
      await check(id);
      expect(faults).toEqual([]);
      await context.close();
    },
  );
});
