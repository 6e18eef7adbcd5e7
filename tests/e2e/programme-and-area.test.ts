import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mapIdle, open } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

const demo = join(import.meta.dirname, '../../data/demo');

describe.skipIf(chromium === undefined)('programme and area (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
    const response = await fetch(`${app.url}/api/surveys/aldermouth/traffic?name=traffic.csv`, {
      method: 'PUT',
      body: readFileSync(join(demo, 'aldermouth-traffic.csv')),
    });
    expect(response.status).toBe(200);
  });
  afterAll(() => app?.stop());

  const violations = async (page: Page) => {
    const found = await new AxeBuilder({ page }).exclude('.map-canvas').analyze();
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
  };
  const plan = async (page: Page) => {
    await page.getByRole('button', { name: 'Programme', exact: true }).click();
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByTestId('plan').waitFor({ timeout: 60_000 });
  };
  const legend = (page: Page) => page.getByRole('region', { name: 'Legend' });

  it('draws the trade-off to be read by pointer and keys, and plans with a point of it', async () => {
    const { page, faults, close } = await open(app);
    await plan(page);
    const curve = page.getByTestId('trade-off');
    const readout = curve.getByTestId('trade-off-readout');
    const slider = curve.getByRole('slider', { name: 'Budget' });
    await slider.press('Home');
    expect(await readout.textContent()).toMatch(/^0 a year: 0 drivers spared/);
    await slider.press('ArrowRight');
    const second = await readout.textContent();
    expect(second).not.toMatch(/^0 a year/);
    expect(await slider.getAttribute('aria-valuetext')).toBe(second);
    expect(await curve.locator('.crosshair-value').textContent()).toMatch(/ at /);

    const drawing = curve.locator('svg.trade-off');
    const box = await drawing.boundingBox();
    if (box === null) throw new Error('the chart is not drawn');
    await drawing.hover({ position: { x: box.width - 20, y: box.height / 2 } });
    const last = (await readout.textContent()) ?? '';
    expect(await slider.inputValue()).toBe(await slider.getAttribute('max'));

    await slider.press('ArrowLeft');
    await curve.getByRole('button', { name: 'Plan with this budget' }).click();
    await expect
      .poll(() => page.getByRole('spinbutton', { name: 'Budget in a year' }).inputValue())
      .not.toBe('100000');
    await page.getByRole('button', { name: 'Plan', exact: true }).waitFor({ timeout: 60_000 });
    expect(await page.getByText('plan again').count()).toBe(0);
    expect(last).toMatch(/drivers spared/);

    // Whoever is sent the address sees the same plan.
    const budget = await page.getByRole('spinbutton', { name: 'Budget in a year' }).inputValue();
    await expect.poll(() => page.url()).toContain(`plan=5/${budget}/20`);
    const result = await page.getByTestId('programme').getByRole('status').textContent();
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    await page
      .getByTestId('programme')
      .getByRole('status')
      .filter({ hasText: result ?? '' })
      .waitFor({
        timeout: 60_000,
      });
    expect(faults).toEqual([]);
    await close();
  });

  it('shows the years on the map and in its legend, only while the programme is looked at', async () => {
    const { page, faults, close } = await open(app);
    await page.locator('.map-legend summary').click();
    expect(
      await legend(page)
        .getByText(/^Year 1/)
        .count(),
    ).toBe(0);
    await plan(page);
    const years = await page.getByTestId('plan').locator('tbody tr').all();
    for (const [i, year] of years.entries()) {
      const count = await year.locator('.tunnel-link').count();
      const entry = legend(page).getByText(new RegExp(`^Year ${i + 1}: ${count} tunnels?$`));
      expect(await entry.count()).toBe(count === 0 ? 0 : 1);
    }
    const sum = await page.getByTestId('plan').getByTestId('sum-tunnels').textContent();
    expect(sum).toBe(`${await page.getByTestId('plan').locator('.tunnel-link').count()} tunnels`);
    await mapIdle(page);
    const withYears = await page.getByTestId('map').screenshot();
    await page.getByRole('button', { name: 'Which first' }).click();
    await page.getByTestId('ranking').waitFor();
    expect(
      await legend(page)
        .getByText(/^Year 1/)
        .count(),
    ).toBe(0);
    await mapIdle(page);
    expect((await page.getByTestId('map').screenshot()).equals(withYears)).toBe(false);
    expect(faults).toEqual([]);
    await close();
  });

  it('prints curve, plan, cautions and source, and nothing of the shell, in light colours', async () => {
    const { page, close } = await open(app, { colorScheme: 'dark' });
    await page.getByRole('button', { name: /light/i }).click();
    await page.getByRole('button', { name: /dark/i }).click();
    await plan(page);
    await page.emulateMedia({ media: 'print' });
    const curve = page.getByTestId('trade-off');
    const shown = [
      page.getByTestId('plan'),
      curve.locator('svg.trade-off'),
      curve.getByRole('cell', { name: 'proven' }).first(),
      page.getByText(/^Planning figures from open map data/),
      page.getByText(/^Aldermouth \(demo\), revision \d+\. Map data: /),
    ];
    for (const part of shown) expect(await part.isVisible()).toBe(true);
    for (const part of ['.map-room', '.head nav', '.survey-tabs', '.trade-off-place', '.ranking-head button'])
      expect(await page.locator(part).first().isVisible(), part).toBe(false);
    const ink = await page.getByTestId('plan').evaluate((table) => getComputedStyle(table).color);
    expect(ink).toBe('rgb(23, 32, 39)');
    await close();
  });

  it('draws on the sheet how a rank came about, and lists the decision points in order', async () => {
    const { page, faults, close } = await open(app);
    await page.getByText('Kell Hill Interchange').first().click();
    const rank = page.getByTestId('rank-section');
    await rank.getByText('How the rank came about').click();
    const chart = rank.getByTestId('rank-chart');
    await chart.waitFor();
    expect(await chart.getByRole('img').getAttribute('aria-label')).toMatch(/[\d,]+ drivers misguided a day/);
    // The bars add up to what the table says.
    const bars = (await chart.locator('.rank-bar .number').allTextContents()).map(toLeft);
    const told = toLeft((await rank.locator('tfoot td').first().textContent()) ?? '');
    expect(told).toBeGreaterThan(1000);
    expect(Math.abs(bars.reduce((sum, bar) => sum + bar, 0) - told)).toBeLessThanOrEqual(bars.length);

    const sources = page.getByTestId('figure-sources');
    await sources.locator('summary').click();
    await sources.getByText(/^Longest outage: The longest drive/).waitFor();
    await sources.getByText(/^Vehicles a day: .*(counts|default)/).waitFor();

    const list = page.getByTestId('decision-list');
    await list.locator('summary').click();
    const points = await list.getByRole('listitem').allTextContents();
    const distances = points
      .filter((text) => text.includes('underground'))
      .map((text) => Number(/([\d,]+) m from the last fix/.exec(text)?.[1]?.replaceAll(',', '')));
    expect(distances.length).toBeGreaterThan(2);
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
    await page.getByText(/^\d+ routes/).click();
    await page
      .getByText(/past decision points 1, 3/)
      .first()
      .waitFor();
    expect(await violations(page)).toEqual([]);
    await list
      .getByRole('button', { name: /^Show the decision point/ })
      .first()
      .click();
    await mapIdle(page);
    await rank.getByRole('button', { name: 'All ranks' }).click();
    await page.getByTestId('ranking').waitFor();
    expect(faults).toEqual([]);
    await close();
  });

  it('finds an area by a place, shows the question, and offers a file where the server refuses', async () => {
    const { page, close } = await open(app);
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    await page.getByText('From an area').click();
    const ask = page.getByRole('button', { name: 'Ask and import' });
    expect(await ask.isDisabled()).toBe(true);
    const search = page.getByRole('searchbox', { name: /^Find a place/ });
    await search.fill('no such place');
    await page.getByText(/^No place of that name/).waitFor();
    await search.fill('skerrow');
    await page.getByText(/Enter takes the first/).waitFor();
    await search.press('Enter');
    await page.getByText('The area is around Skerrow').waitFor();
    await page.getByLabel('Square around it').selectOption('2');
    await page.getByText(/^4\.0\d km²$|^3\.9\d km²$/).waitFor();
    await page.getByText('The question that will be asked').click();
    const south = await page.getByLabel('South').inputValue();
    const question = (await page.locator('dialog pre').textContent()) ?? '';
    expect(question).toContain(`(${Number(south).toFixed(7)}`);
    expect(question).toContain('["tunnel"]');
    expect(await violations(page)).toEqual([]);

    await ask.click();
    const refused = page.getByRole('alert').filter({ hasText: 'was not imported' });
    await refused
      .getByText(/^No map server answered/)
      .or(refused.getByText(/upload a file/))
      .first()
      .waitFor({
        timeout: 60_000,
      });
    await refused.getByRole('button', { name: 'Change and try again' }).waitFor();
    expect(await violations(page)).toEqual([]);
    await refused.locator('input[type=file]').setInputFiles(join(demo, 'aldermouth.osm'));
    await page.getByText(/aldermouth.* is ready/).waitFor({ timeout: 60_000 });
    await close();
  });

  it('takes an outline corner by corner, and lets it be typed', async () => {
    const { page, close } = await open(app);
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    await page.getByText('From an area').click();
    await page.getByRole('button', { name: 'Draw an outline' }).click();
    const pane = page.getByTestId('outline-drawing');
    const done = page.getByRole('button', { name: 'Done' });
    const corners = [
      [200, 300],
      [420, 320],
      [400, 520],
      [100, 100],
    ] as const;
    for (const [x, y] of corners) await pane.click({ position: { x, y } });
    await page.getByText('4 corners').waitFor();
    await page.keyboard.press('Backspace');
    await page.getByText('3 corners').waitFor();
    expect(await done.isEnabled()).toBe(true);
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press('Enter');
    const typed = page.getByRole('textbox', { name: /^Corners of the outline/ });
    expect((await typed.inputValue()).split('\n')).toHaveLength(3);
    await page.getByText(/km²$/).waitFor();
    await typed.fill('-20.02, 46\n-19.98, 46.03\n-19.98, 46\n-20.02, 46.03');
    await page.getByText(/touches or crosses itself/).waitFor();
    await typed.fill('-20.02, 46\n-19.98, 46\n-19.98, 46.03');
    await page.getByText('The question that will be asked').click();
    expect(await page.locator('dialog pre').textContent()).toContain('poly:"46.0000000 -20.0200000 ');
    expect(await page.getByRole('button', { name: 'Ask and import' }).isEnabled()).toBe(true);
    expect(await violations(page)).toEqual([]);
    await close();
  });
});

/** `1,474 → 32`: what stands at the left. */
function toLeft(text: string): number {
  return Number((text.split(' → ')[0] ?? '').replaceAll(',', ''));
}
