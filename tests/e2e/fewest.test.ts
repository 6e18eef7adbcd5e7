import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layer, open, saved } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('the fewest beacons (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('chooses the method, proves the fewest in a worker, and keeps the proof', async () => {
    const { page, faults, close } = await open(app);
    await page.getByRole('gridcell', { name: 'Quayside Tunnel' }).first().click();
    const section = page.getByRole('region', { name: 'Fewest beacons' });
    const status = section.getByTestId('fewest');
    await page.getByRole('combobox', { name: 'Method' }).selectOption('fewest');
    await status.filter({ hasText: 'found at once; not proven' }).waitFor();
    await saved(page);

    // A search that is stopped leaves everything as it was; this one waits for its solver until then.
    await page.route(/\.wasm$/, () => {});
    await section.getByRole('button', { name: 'Prove the fewest' }).click();
    await section.getByText('Looking for the fewest… 1 s').waitFor();
    await section.getByRole('button', { name: 'Cancel' }).click();
    await section.getByRole('button', { name: 'Prove the fewest' }).waitFor();
    await page.unroute(/\.wasm$/);

    await section.getByRole('button', { name: 'Prove the fewest' }).click();
    const use = section.getByRole('button', { name: /^Use these \d+$/ });
    await use.waitFor({ timeout: 60_000 });
    const count = Number(/\d+/.exec((await use.textContent()) ?? '')?.[0]);
    await section.getByText(`${count} beacons, proven`, { exact: true }).waitFor();
    await use.click();
    await status.filter({ hasText: `${count} beacons: proven fewest.` }).waitFor();
    await saved(page);
    await page.getByText(`${count} beacons at 40 m`).waitFor();
    const tunnel = new URL(page.url()).searchParams.get('tunnel');
    const laid = (await layer(app, 'beacons')).filter(({ properties }) => properties.complex === tunnel);
    expect(laid).toHaveLength(count);

    // The proof is one of this question: another spacing asks another one; undone, it holds again.
    const spacing = page.getByRole('spinbutton', { name: 'Spacing' });
    await spacing.fill('60');
    await spacing.press('Enter');
    await status.filter({ hasText: 'not proven' }).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await status.filter({ hasText: 'proven fewest' }).waitFor();
    await saved(page);
    await page.reload();
    await status.filter({ hasText: 'proven fewest' }).waitFor();
    expect(faults).toEqual([]);
    await close();
  });
});
