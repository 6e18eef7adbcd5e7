import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { open, saved } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('the history (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('tells what was done, and goes back to it, with the tunnel and the table', async () => {
    const { page, faults, close } = await open(app);
    await page.getByRole('gridcell', { name: 'Quayside Tunnel' }).first().click();
    const title = page.getByText(/^\d+ beacons at \d+ m/);
    const before = await title.textContent();
    const spacing = page.getByRole('spinbutton', { name: 'Spacing' });
    await spacing.fill('20');
    await spacing.press('Enter');
    await saved(page);
    expect(await title.textContent()).not.toBe(before);

    await page.getByRole('button', { name: /^Survey: / }).click();
    await page.getByRole('button', { name: 'History' }).click();
    const entries = page.getByRole('listitem').filter({ has: page.getByRole('time') });

    await page.getByText('Imported').waitFor();
    expect(await entries.count()).toBeGreaterThan(2);
    const axe = await new AxeBuilder({ page }).include('.panel').analyze();
    expect(axe.violations.map(({ id }) => id)).toEqual([]);

    await page.getByRole('button', { name: 'Compare revision 2 with now' }).click();
    await page.getByRole('heading', { name: 'Since revision 2' }).waitFor();
    await page
      .getByText(/beacons/)
      .first()
      .waitFor();
    expect(await page.getByRole('row').count()).toBeGreaterThan(5);
    await page.getByRole('button', { name: '‹ History' }).click();
    await page.getByRole('button', { name: 'Go back to revision 2' }).click();
    await page.getByRole('button', { name: 'Leave it as it is' }).click();
    await page.getByRole('button', { name: 'Go back to revision 2' }).click();
    await page.getByRole('button', { name: 'Go back', exact: true }).click();
    await page.getByText('The survey is again as it was at revision 2.').first().waitFor();
    await page.getByText('Gone back to revision 2').waitFor();
    await page.getByRole('button', { name: /All tunnels/ }).click();
    await page.getByRole('gridcell', { name: 'Quayside Tunnel' }).first().click();
    await expect.poll(() => title.textContent()).toBe(before);
    expect(faults).toEqual([]);
    await close();
  });
});
