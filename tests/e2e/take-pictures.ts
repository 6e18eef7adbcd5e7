/** `npm run pictures`: the README's pictures, taken from the running program. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { chromium, startApp } from './start-app.ts';

const folder = join(import.meta.dirname, '../../docs/images');
if (chromium === undefined) throw new Error('No Chromium was found: set CHROMIUM_PATH.');

mkdirSync(folder, { recursive: true });
const app = await startApp(chromium);
try {
  const page = await app.browser.newPage({ viewport: { width: 1440, height: 900 }, reducedMotion: 'reduce' });
  await page.goto(`${app.url}/?survey=aldermouth`);
  await page.getByText('Kell Hill Interchange').first().waitFor();
  await take(page, 'city');
  await page.getByText('Kell Hill Interchange').first().click();
  await page.getByText('209 beacons at 40 m').waitFor();
  await take(page, 'tunnel');
} finally {
  await app.stop();
}

async function take(page: Page, name: string): Promise<void> {
  await page.waitForTimeout(500);
  await page.waitForFunction(() => document.querySelector('[data-map-idle="true"]') !== null);
  await page.waitForTimeout(500);
  await page.screenshot({ path: join(folder, `${name}.png`) });
}
