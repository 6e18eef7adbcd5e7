import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { open } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('the radio model (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('follows the profiles and warns where the radius in use is more than it hears', async () => {
    const { page, faults, close } = await open(app);
    await page.getByText('Kell Hill Interchange').first().click();
    const section = page.getByRole('region', { name: 'Radio' });
    await section.locator('summary').click();
    const range = section.getByTestId('model-range');
    expect(await range.textContent()).toMatch(/^Model range 5\d m ≥ 40 m in use/);

    const chances = () => section.getByTestId('detection').locator('td').allTextContents();
    const balanced = await chances();
    await section.getByLabel('Receiver').selectOption({ label: 'Sparse' });
    const sparse = await chances();
    expect(sparse).toHaveLength(4);
    expect(Number.parseFloat(sparse[0] ?? '')).toBeLessThan(Number.parseFloat(balanced[0] ?? '') - 10);

    await page.getByRole('spinbutton', { name: 'Coverage radius' }).fill('120');
    await section.getByText(/reduce the coverage radius to 5\d m/).waitFor();
    await section.getByLabel('Beacon').selectOption({ label: 'Strong' });
    await section.getByText(/^Model range 1\d\d m ≥ 120 m in use/).waitFor();
    expect(faults).toEqual([]);
    await close();
  });

  it.each(['light', 'dark'] as const)('has no serious accessibility fault: %s', async (colorScheme) => {
    const { page, close } = await open(app, { colorScheme, viewport: { width: 390, height: 844 } });
    await page.getByText('Kell Hill Interchange').first().click();
    const section = page.getByRole('region', { name: 'Radio' });
    await section.locator('summary').click();
    await section.getByTestId('detection').waitFor();
    const { violations } = await new AxeBuilder({ page }).include('.radio').analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    expect(await section.evaluate((box) => box.scrollWidth - box.clientWidth)).toBe(0);
    await close();
  });
});
