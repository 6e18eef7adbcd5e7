import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layer, open, saved } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

const TUNNEL = 'Kell Hill Interchange';

describe.skipIf(chromium === undefined)('the radio model (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  /** The section of a tunnel, opened. */
  const openRadio = async (page: Page, tunnel: string) => {
    await page.getByText(tunnel).first().click();
    const section = page.getByRole('region', { name: 'Radio' });
    await section.locator('summary').first().click();
    await section.getByTestId('model-range').waitFor();
    return section;
  };

  it('follows the profiles and warns where the radius in use is more than it hears', async () => {
    const { page, faults, close } = await open(app);
    const section = await openRadio(page, TUNNEL);
    const range = section.getByTestId('model-range');
    expect(await range.textContent()).toMatch(/^Model range 5\d m ≥ 40 m in use/);
    const terms = await section.getByTestId('budget').getByRole('rowheader').allTextContents();
    expect(terms.slice(0, 2).map((text) => /^[A-Z][a-z ]+[a-z]/.exec(text)?.[0])).toEqual([
      'Transmit power',
      'Antenna gain',
    ]);

    const chances = () => section.getByTestId('detection').locator('td').allTextContents();
    const balanced = await chances();
    await section.getByRole('combobox', { name: 'Receivers' }).selectOption({ label: 'sparse' });
    await expect.poll(chances).not.toEqual(balanced);
    const sparse = await chances();
    expect(sparse).toHaveLength(4);
    expect(Number.parseFloat(sparse[0] ?? '')).toBeLessThan(Number.parseFloat(balanced[0] ?? '') - 10);

    await section.getByRole('spinbutton', { name: 'Coverage radius' }).fill('120');
    await section.getByText(/reduce the coverage radius to 5\d m/).waitFor();
    await page.keyboard.press('Enter');
    await section.getByRole('combobox', { name: 'Beacons' }).selectOption({ label: 'strong' });
    await section.getByText(/^Model range 1\d\d m ≥ 120 m in use/).waitFor();
    expect(faults).toEqual([]);
    await close();
  });

  it('keeps the profile that was chosen, and takes it back by undo', async () => {
    const { page, close } = await open(app);
    const section = await openRadio(page, TUNNEL);
    const life = page.getByRole('region', { name: 'Figures' }).getByText(/^\d+\.\d years$/);
    const before = await life.textContent();
    await section.getByRole('combobox', { name: 'Beacons' }).selectOption({ label: 'sparing' });
    await section.getByText('0 dBm every second from 1000 mAh.').waitFor();
    await expect.poll(() => life.textContent()).not.toBe(before);
    await saved(page);

    await page.reload();
    const again = page.getByRole('region', { name: 'Radio' });
    await again.locator('summary').first().click();
    const beacons = again.getByRole('combobox', { name: 'Beacons' });
    expect(await beacons.inputValue()).toBe('sparing');
    await page.keyboard.press('Control+z');
    await expect.poll(() => beacons.inputValue()).not.toBe('sparing');
    await saved(page);
    await close();
  });

  it('takes the radius from the model into the coverage that is exported', async () => {
    const { page, close } = await open(app);
    const section = await openRadio(page, TUNNEL);
    const ranges = async () => {
      const id = new URL(page.url()).searchParams.get('tunnel');
      const features = await layer(app, 'coverage');
      const own = features.filter(({ properties }) => properties.complex === id);
      expect(own.length).toBeGreaterThan(50);
      return [...new Set(own.map(({ properties }) => properties.rangeM))];
    };
    await section.getByRole('combobox', { name: 'Beacons' }).selectOption({ label: 'standard' });
    await section.getByRole('combobox', { name: 'Radius from' }).selectOption({ label: 'a measurement' });
    await section.getByRole('spinbutton', { name: 'Measured radius' }).fill('33');
    await section.getByText(/^Measured radius 33 m in use; model range 5\d m/).waitFor();
    await page.keyboard.press('Enter');
    await saved(page);
    expect(await ranges()).toEqual([33]);

    await section.getByRole('combobox', { name: 'Radius from' }).selectOption({ label: 'the radio model' });
    await section.getByText(/^Radius from the model in use: 5\d/).waitFor();
    expect(await section.getByRole('spinbutton', { name: /radius$/ }).count()).toBe(0);
    await saved(page);
    const modelled = (await ranges()) as number[];
    expect(Math.min(...modelled)).toBeGreaterThan(50);
    expect(Math.max(...modelled)).toBeLessThan(55);
    await close();
  });

  it('advises a spacing with its working, and takes it over in two edits', async () => {
    const { page, faults, close } = await open(app);
    const section = await openRadio(page, 'Tolland Tunnel');
    await section.getByText('Spacing adviser').click();
    const rows = section.getByTestId('advice').locator('tbody tr');
    await expect.poll(() => rows.count()).toBe(4);
    expect(await rows.nth(3).locator('td').first().textContent()).toBe('37.5 m');
    await section.getByLabel('Wanted error').fill('0');
    await section.getByText('1 to 500 m', { exact: true }).waitFor();
    await section.getByLabel('Wanted error').fill('15');
    await section.getByRole('button', { name: 'Use 37 m, redundancy 2' }).click();
    await section.getByText('37 m, redundancy 2: in use.').waitFor();
    expect(await page.getByRole('spinbutton', { name: 'Spacing', exact: true }).inputValue()).toBe('37');
    await saved(page);
    expect(faults).toEqual([]);
    await close();
  });

  it.each(['light', 'dark'] as const)('has no serious accessibility fault: %s', async (colorScheme) => {
    const { page, close } = await open(app, { colorScheme, viewport: { width: 390, height: 844 } });
    const section = await openRadio(page, TUNNEL);
    await section.getByText('Spacing adviser').click();
    await section.getByTestId('advice').waitFor();
    const { violations } = await new AxeBuilder({ page }).include('.radio').analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    expect(await section.evaluate((box) => box.scrollWidth - box.clientWidth)).toBe(0);
    await close();
  });
});
