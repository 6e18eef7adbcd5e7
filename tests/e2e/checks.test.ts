import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { open, saved, selected } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('the checks (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('tell what is not met before they are opened, follow the rules, and lead to the place', async () => {
    const { page, faults, close } = await open(app);
    await page.getByText('Kell Hill Interchange').first().click();
    const section = page.getByRole('region', { name: 'Checks' });
    await section.getByText('all met').waitFor();
    await section.locator('summary').click();
    const item = (rule: string) => section.getByRole('listitem').filter({ hasText: rule });
    expect(await item('Beacons heard everywhere').textContent()).toContain('met');
    expect(await item('Radiated power (EIRP)').textContent()).toContain('0 dBm, at most 10 dBm');
    expect(await item('Heard together from two branches').textContent()).toMatch(/^note/);
    expect(await item('Beacons clear of the keep-outs').textContent()).toContain('does not apply');

    // A first beacon stands at most 40 m past the split: with 60 m it is heard 20 m into the sister branch.
    const radius = page.getByRole('spinbutton', { name: 'Coverage radius' });
    await radius.fill('60');
    await section.getByText('1 not met').waitFor();
    await section
      .getByRole('button', { name: /^Heard on the wrong branch: show / })
      .first()
      .click();
    expect(await selected(page)).toMatch(/\.1$/);
    await radius.fill('42');
    await section.getByText('all met').waitFor();
    await radius.press('Enter');
    await saved(page);
    expect(await section.getByTestId('survival').textContent()).toMatch(/^84\.0 % chance/);
    expect(faults).toEqual([]);
    await close();
  });

  it.each(['light', 'dark'] as const)('have no serious accessibility fault: %s', async (colorScheme) => {
    const { page, close } = await open(app, { colorScheme, viewport: { width: 390, height: 844 } });
    await page.getByText('Kell Hill Interchange').first().click();
    const section = page.getByRole('region', { name: 'Checks' });
    await section.locator('summary').click();
    const { violations } = await new AxeBuilder({ page }).include('.checks').analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    expect(await section.evaluate((box) => box.scrollWidth - box.clientWidth)).toBe(0);
    await close();
  });
});
