import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layer, mapIdle, open } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('the table of tunnels (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  const names = (page: Page) => page.getByRole('grid').locator('.tunnel-name').allTextContents();
  const violations = async (page: Page) => {
    const found = await new AxeBuilder({ page }).exclude('.map-canvas').analyze();
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
  };

  it('filters by figures, class and assumption, and the map and the address follow', async () => {
    const { page, faults, close } = await open(app);
    const whole = await page.getByTestId('map').screenshot();
    const told = (await layer(app, 'complexes')).map(({ properties }) => properties);
    const long = told.filter(
      ({ kind, restricted, lengthM, decisionCount, roadClass }) =>
        kind === 'tunnel' &&
        restricted === false &&
        Number(lengthM) >= 500 &&
        Number(decisionCount) <= 20 &&
        roadClass === 'motorway',
    );
    expect(long.length).toBeGreaterThan(0);

    await page.getByRole('button', { name: 'Filters' }).click();
    await page.getByRole('spinbutton', { name: 'Length from, m' }).fill('500');
    await page.getByRole('spinbutton', { name: 'Decision points to' }).fill('20');
    await page.getByRole('checkbox', { name: /^motorway \(/ }).check();
    await page.getByRole('spinbutton', { name: 'Rank from' }).fill('9');
    await page.getByRole('spinbutton', { name: 'Rank to' }).fill('3');
    await page.getByRole('alert').filter({ hasText: 'From is above to.' }).waitFor();
    await page.getByRole('spinbutton', { name: 'Rank to' }).fill('');
    await page.getByRole('spinbutton', { name: 'Rank from' }).fill('');
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.getByText(`${long.length} of ${told.length} tunnels`).waitFor();
    expect((await names(page)).sort()).toEqual(long.map(({ name }) => String(name)).sort());
    await mapIdle(page);
    expect((await page.getByTestId('map').screenshot()).equals(whole)).toBe(false);

    // Columns, order and a search; whoever is sent the address sees the same.
    await page.getByRole('button', { name: 'Columns' }).click();
    await page.getByRole('checkbox', { name: 'Road class of the longest bore' }).check();
    await page.getByRole('checkbox', { name: /^What is assumed/ }).check();
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Name', exact: true }).click();
    const url = new URL(page.url());
    expect(Object.fromEntries(url.searchParams)).toMatchObject({
      survey: 'aldermouth',
      length: '500..',
      decisions: '..20',
      class: 'motorway',
      sort: 'name',
    });
    const shown = await names(page);
    const row = await page.getByRole('row').nth(1).textContent();
    await page.goto('about:blank');
    await page.goto(url.href);
    await expect.poll(() => names(page)).toEqual(shown);
    expect(await page.getByRole('row').nth(1).textContent()).toBe(row);

    // Into a tunnel and back, by the browser.
    await page.getByRole('gridcell').first().click();
    await page.getByRole('button', { name: /All tunnels/ }).waitFor();
    await page.goBack();
    await expect.poll(() => names(page)).toEqual(shown);

    await page.getByRole('searchbox', { name: 'Filter tunnels' }).fill('nowhere');
    await page.getByText('No tunnel passes all filters.').waitFor();
    expect(await violations(page)).toEqual([]);
    await page.getByRole('button', { name: `Without “nowhere”: ${long.length} tunnels` }).click();
    await page.getByRole('button', { name: 'Remove the filter motorway' }).click();
    await expect.poll(async () => (await names(page)).length).toBeGreaterThan(long.length);
    await page.getByRole('button', { name: 'Clear all' }).click();
    await expect.poll(() => page.url()).not.toContain('length=');
    expect(faults).toEqual([]);
    await close();
  });

  it('is linked with the map: what is pointed at in one is marked in the other', async () => {
    const { page, faults, close } = await open(app);
    const map = page.getByTestId('map');
    const plain = await map.screenshot();
    const row = page.getByRole('row', { name: /Aldermouth Harbour/ });
    await row.hover();
    await mapIdle(page);
    const marked = await map.screenshot();
    expect(marked.equals(plain)).toBe(false);

    // Over the map, until a row is marked: the harbour tunnel lies in the south of the middle.
    await page.mouse.move(0, 0);
    const box = await map.boundingBox();
    if (box === null) throw new Error('there is no map');
    const isMarked = async () => (await page.locator('.grid-row.is-hovered').count()) > 0;
    for (let y = 0.5; y < 0.9 && !(await isMarked()); y += 0.01) {
      await page.mouse.move(box.x + box.width * 0.5, box.y + box.height * y);
      await page.waitForTimeout(60);
    }
    const name = (await page.locator('.grid-row.is-hovered .tunnel-name').textContent()) ?? '';
    expect(name).not.toBe('');
    await page.mouse.down();
    await page.mouse.up();
    await page.getByRole('heading', { name }).waitFor();

    // By keyboard: the table comes back to that tunnel; arrows move, Enter opens.
    await page.getByRole('button', { name: /All tunnels/ }).click();
    const back = page.locator('.grid-row[tabindex="0"]').filter({ hasText: name });
    await back.waitFor();
    await back.focus();
    await page.keyboard.press('ArrowDown');
    const next = (await page.locator('.grid-row:focus .tunnel-name').textContent()) ?? '';
    expect(next).not.toBe(name);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: next, exact: true }).waitFor();
    expect(faults).toEqual([]);
    await close();
  });

  it.each([
    ['light', 390, 844],
    ['dark', 720, 450],
  ] as const)('fits %s %i × %i with filters in use', async (colorScheme, width, height) => {
    const { page, close } = await open(app, { colorScheme, viewport: { width, height } });
    await page.goto(`${app.url}/?survey=aldermouth&exits=1..&assumed=width`);
    await page.getByText('2 of 31 tunnels').waitFor();
    await page.getByRole('button', { name: 'Filters (2)' }).click();
    expect(await violations(page)).toEqual([]);
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(overflow).toBeLessThanOrEqual(0);
    await close();
  });
});
