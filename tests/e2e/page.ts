import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { type RunningApp, watchFaults } from './start-app.ts';

/** Opens the demo city in a browser of its own, the map drawn. */
export async function open(
  app: RunningApp,
  options: Parameters<RunningApp['browser']['newContext']>[0] = {},
) {
  const context = await app.browser.newContext({
    viewport: { width: 1440, height: 900 },
    reducedMotion: 'reduce',
    acceptDownloads: true,
    ...options,
  });
  const page = await context.newPage();
  const faults = watchFaults(page);
  await page.goto(`${app.url}/?survey=aldermouth`);
  await page.getByText('Kell Hill Interchange').first().waitFor();
  await mapIdle(page);
  return { page, faults, close: () => context.close() };
}

/** Waits until the map has drawn what it was given. */
export async function mapIdle(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector('[data-map-idle="true"]') !== null, undefined, {
    timeout: 60_000,
  });
}

/** Waits until the tunnel that is open has nothing to be saved. */
export async function saved(page: Page): Promise<void> {
  await page
    .getByRole('status')
    .filter({ hasText: /^Saved$/ })
    .waitFor();
}

/** The id of the beacon that is chosen, as the map's tag tells it. */
export async function selected(page: Page): Promise<string> {
  const tag = page.getByTestId('selected-beacon');
  await expect.poll(() => tag.getAttribute('data-beacon')).toBeTruthy();
  return (await tag.getAttribute('data-beacon')) ?? '';
}

type Feature = {
  readonly id: string;
  readonly properties: Readonly<Record<string, unknown>>;
};

/** The features of a layer of the demo city, as the server has it. */
export async function layer(app: RunningApp, name: string): Promise<readonly Feature[]> {
  const response = await fetch(`${app.url}/api/surveys/aldermouth/layers/${name}`);
  return ((await response.json()) as { features: Feature[] }).features;
}
