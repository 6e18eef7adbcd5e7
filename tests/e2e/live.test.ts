import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { open, saved } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('two people on one survey', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('see what the other changes: in the tunnel that is open, in the table, and in the survey’s name', async () => {
    const mine = await open(app);
    const theirs = await open(app);
    const row = theirs.page.getByRole('row').filter({ hasText: 'Quayside Tunnel' }).first();
    const rowBefore = await row.textContent();
    await theirs.page.getByRole('gridcell', { name: 'Quayside Tunnel' }).first().click();
    const title = theirs.page.getByText(/^\d+ beacons at \d+ m/);
    const before = await title.textContent();

    await mine.page.getByRole('gridcell', { name: 'Quayside Tunnel' }).first().click();
    const spacing = mine.page.getByRole('spinbutton', { name: 'Spacing' });
    await spacing.fill('20');
    await spacing.press('Enter');
    await saved(mine.page);
    const after = await mine.page.getByText(/^\d+ beacons at 20 m/).textContent();
    expect(after).not.toBe(before);
    await expect.poll(() => title.textContent()).toBe(after);

    // What is told of the table follows, too, though its own tunnel is open there.
    await theirs.page.getByRole('button', { name: /All tunnels/ }).click();
    await expect.poll(() => row.textContent()).not.toBe(rowBefore);

    // Somebody who has no page open.
    const renamed = await fetch(`${app.url}/api/surveys/aldermouth`, {
      method: 'PATCH',
      body: JSON.stringify({ name: 'Aldermouth, second look' }),
      headers: { 'content-type': 'application/json' },
    });
    expect(renamed.status).toBe(200);
    for (const { page, faults } of [mine, theirs]) {
      await page.getByText('Aldermouth, second look').first().waitFor();
      expect(faults).toEqual([]);
    }
    await mine.close();
    await theirs.close();
  });
});
