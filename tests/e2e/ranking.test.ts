import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { open } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

const demo = join(import.meta.dirname, '../../data/demo');
const TRAFFIC = join(demo, 'aldermouth-traffic.csv');
const BEACONS = join(demo, 'aldermouth-beacons.csv');
const SURVEY = '/api/surveys/aldermouth';

describe.skipIf(chromium === undefined)('which first (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  const put = async (kind: 'traffic' | 'existing', file: string) => {
    const response = await fetch(`${app.url}${SURVEY}/${kind}?name=${kind}.csv`, {
      method: 'PUT',
      body: readFileSync(file),
    });
    expect(response.status).toBe(200);
  };
  const show = (page: Page, tab: string) => page.getByRole('button', { name: tab, exact: true }).click();
  const kindOf = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
  const rowOf = (page: Page, name: string) => page.getByRole('row').filter({ hasText: name });

  it('brings traffic and beacons, tells what matched, and the table follows', async () => {
    for (const kind of ['traffic', 'existing']) {
      await fetch(`${app.url}${SURVEY}/${kind}`, { method: 'DELETE' });
    }
    const { page, faults, close } = await open(app);
    const wrenlow = rowOf(page, 'Wrenlow Tunnel');
    expect(await wrenlow.textContent()).toContain('planned');
    expect(await rowOf(page, 'Aldermouth Harbour').textContent()).toMatch(/\d\*/);

    await show(page, 'Traffic and beacons');
    const traffic = kindOf(page, 'Traffic counts');
    await traffic.getByText('vehicles_per_day').first().waitFor();
    await traffic.locator('input[type=file]').setInputFiles(TRAFFIC);
    await traffic.getByText('11 of 12 usable rows matched a bore; 2 rows had a fault.').waitFor();
    const beacons = kindOf(page, 'Existing beacons');
    await beacons.locator('input[type=file]').setInputFiles(BEACONS);
    await beacons.getByText('1 tunnel equipped, 2 partly').waitFor();
    await beacons.getByText('Where each beacon was found').click();
    const match = beacons.getByTestId('matches').getByRole('row').filter({ hasText: 'AL-1001' });
    expect(await match.textContent()).toMatch(/Wrenlow Tunnel0\+019right4\.5$/);
    const report = beacons.getByTestId('report-existing');
    await report.getByText('Existing beacon near several bores').click();
    const ambiguous = report.getByRole('listitem').filter({ hasText: 'line 34' });
    await ambiguous.getByText(/distanceM: 15.*otherDistanceM: 15.*given: to the tunnel/).waitFor();
    await report.getByText('Existing beacon near no tunnel').click();
    await report.getByText('device: AL-3003').waitFor();

    await show(page, 'Tunnels');
    expect(await wrenlow.textContent()).toContain('equipped');
    expect(await rowOf(page, 'Aldermouth Harbour').textContent()).toContain('64,000');
    expect(await rowOf(page, 'Aldermouth Harbour').textContent()).not.toMatch(/64,000\*/);
    await page.getByText(/^Lack beacons/).click();
    await page.getByText(/\d+ of \d+ tunnels/).waitFor();
    expect(await wrenlow.count()).toBe(0);
    expect(await rowOf(page, 'Fold Hill Tunnel').textContent()).toContain('partly');
    await page.getByText(/^All/).click();
    await page.getByRole('button', { name: 'Rank', exact: true }).click();
    const first = page.getByRole('grid').getByRole('row', { name: /^\S/ }).nth(1);
    expect(await first.getByRole('gridcell').nth(1).textContent()).toBe('1');

    await show(page, 'Traffic and beacons');
    await beacons.getByRole('button', { name: 'Remove existing beacons' }).click();
    await beacons.getByText('Nothing has been brought yet.').waitFor();
    await show(page, 'Tunnels');
    await wrenlow.filter({ hasText: 'planned' }).waitFor();
    expect(faults).toEqual([]);
    await close();
  });

  it('refuses a file without the columns with a sentence, and keeps what was there', async () => {
    await put('traffic', TRAFFIC);
    const { page, close } = await open(app);
    await show(page, 'Traffic and beacons');
    const traffic = kindOf(page, 'Traffic counts');
    await traffic.locator('input[type=file]').setInputFiles({
      name: 'wrong.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('street,cars\nA,1\n'),
    });
    await traffic.getByRole('alert').filter({ hasText: 'wrong.csv has no column' }).waitFor();
    expect(await traffic.textContent()).toMatch(/traffic\.csv 11 of 12 usable rows matched/);
    await close();
  });

  it('orders the tunnels, shows every term, and follows an own factor, a filter and the costs', async () => {
    await put('traffic', TRAFFIC);
    const { page, faults, close } = await open(app);
    await show(page, 'Which first');
    const table = page.getByTestId('ranking');
    const names = () => table.locator('.who .tunnel-link').allTextContents();
    await table.waitFor();
    const before = await names();
    expect(before.length).toBeGreaterThan(20);

    // The terms of the first add up to what its row says.
    const working = table.getByRole('button', { name: /^1\. Working/ });
    await working.click();
    const terms = table.locator('.rank-working table').first();
    const lefts = (await terms.locator('tbody td:last-child').allTextContents()).map(toLeft);
    const sum = lefts.reduce((all, one) => all + one, 0);
    const told = toLeft((await terms.locator('tfoot td').textContent()) ?? '');
    expect(told).toBeGreaterThan(100);
    // Each line is rounded to whole drivers.
    expect(Math.abs(sum - told)).toBeLessThanOrEqual((lefts.length + 1) / 2);
    await working.click();

    const [first, second] = before as [string, string];
    await page.locator('summary', { hasText: 'Own factors' }).click();
    await page.getByPlaceholder('e.g. detour').fill('detour');
    await page.getByRole('button', { name: 'Add a column' }).click();
    await page.getByRole('spinbutton', { name: 'Weight' }).fill('10');
    await page.getByRole('spinbutton', { name: 'Weight' }).press('Enter');
    const valueField = (tunnel: string) =>
      page.getByRole('spinbutton', { name: `detour of ${tunnel}`, exact: true });
    await valueField(first).fill('0');
    await valueField(first).press('Enter');
    await valueField(second).fill('5');
    await valueField(second).press('Enter');
    await expect.poll(names).not.toEqual(before);
    const after = await names();
    expect(after.indexOf(second)).toBeLessThan(2);
    // The score of the second is eleven times what it was: 1 + 10 × 1.
    await table.getByRole('button', { name: new RegExp(`Working: ${second}$`) }).click();
    await table.getByText('× 11.00').waitFor();

    await page.locator('summary', { hasText: 'Filters' }).click();
    await page.getByRole('button', { name: 'Add a filter' }).click();
    await page.getByRole('spinbutton', { name: 'At least' }).fill('1000');
    await page.getByRole('spinbutton', { name: 'At least' }).press('Enter');
    const leftOut = page.getByTestId('left-out');
    await leftOut.getByText('wanted at least 1,000').first().waitFor();
    expect((await names()).length + (await leftOut.locator('tbody tr').count())).toBe(before.length);

    // What was set is still there after a reload; the window that is too short is refused with a sentence.
    await page.reload();
    await leftOut.waitFor();
    await page.locator('summary', { hasText: 'Costs' }).click();
    const window = page.getByRole('spinbutton', { name: 'Closure window' });
    await window.fill('1');
    await window.press('Enter');
    await page.getByRole('alert').filter({ hasText: 'This cannot be ranked' }).waitFor();
    expect(await table.count()).toBe(1);
    await page.getByRole('button', { name: 'Back to the defaults' }).click();
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await table.locator('.tunnel-link').first().click();
    await page.getByRole('button', { name: 'All tunnels' }).waitFor();
    // The browser notes the refusal; nothing else.
    expect(faults.filter((fault) => !fault.includes('status of 4'))).toEqual([]);
    await close();
  });

  it('plans within the budget, beside the simple order, and says when its inputs have changed', async () => {
    await put('traffic', TRAFFIC);
    await put('existing', BEACONS);
    const { page, faults, close } = await open(app);
    await show(page, 'Programme');
    const field = (name: string) => page.getByRole('spinbutton', { name, exact: true });
    await field('Years').fill('4');
    await field('Budget in a year').fill('40000');
    await field('Closure nights in a year').fill('6');
    await field('Closure nights in a year').press('Enter');
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    const plan = page.getByTestId('plan');
    await plan.waitFor({ timeout: 60_000 });
    const numbers = async (testId: string) =>
      (await plan.getByTestId(testId).allTextContents()).map((text) => Number(text.replaceAll(',', '')));
    const costs = await numbers('year-cost');
    const nights = await numbers('year-nights');
    expect(costs).toHaveLength(4);
    expect(Math.max(...costs)).toBeLessThanOrEqual(40_000);
    expect(costs[0]).toBeGreaterThan(0);
    expect(Math.max(...nights)).toBeLessThanOrEqual(6);
    const names = await plan.locator('.tunnel-link').allTextContents();
    expect(new Set(names).size).toBe(names.length);
    expect(names).not.toContain('Wrenlow Tunnel');
    await page.getByRole('region', { name: 'Equipped already (1)' }).getByText('Wrenlow Tunnel').waitFor();

    // Never worse than the simple order, and the curve never falls.
    const compared = await page
      .getByTestId('comparison')
      .locator('tbody tr')
      .first()
      .locator('td')
      .allTextContents();
    const [mine, simple] = compared.map((text) => Number(text.replaceAll(',', ''))) as [number, number];
    expect(mine).toBeGreaterThanOrEqual(simple);
    const curve = page.getByTestId('trade-off');
    await curve.getByText('The curve as a table').click();
    const drivers = (await curve.locator('details tbody td:nth-child(2)').allTextContents()).map((text) =>
      Number(text.replaceAll(',', '')),
    );
    expect(drivers.length).toBeGreaterThan(5);
    expect(drivers).toEqual([...drivers].sort((a, b) => a - b));
    const readout = curve.getByTestId('trade-off-readout');
    const at = await readout.textContent();
    await curve.getByRole('slider', { name: 'Budget' }).press('End');
    expect(await readout.textContent()).not.toBe(at);

    await field('Budget in a year').fill('0');
    await field('Budget in a year').press('Enter');
    await page.getByText('plan again').waitFor();
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByText('No tunnel fits in these limits.').waitFor({ timeout: 60_000 });
    expect(faults).toEqual([]);
    await close();
  });

  it('gives a plan up when it is told to', async () => {
    const { page, faults, close } = await open(app);
    await show(page, 'Programme');
    await page.route('**/programme', () => undefined);
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByRole('button', { name: 'Cancel' }).click();
    await page.getByText('Cancelled.').waitFor();
    expect(await page.getByRole('alert').count()).toBe(0);
    expect(faults).toEqual([]);
    await close();
  });

  it.each([
    ['light', 1440, 900],
    ['dark', 390, 844],
  ] as const)('has no accessibility fault: %s, %i × %i', async (colorScheme, width, height) => {
    await put('traffic', TRAFFIC);
    await put('existing', BEACONS);
    const { page, close } = await open(app, { colorScheme, viewport: { width, height } });
    const violations = async () => {
      const found = await new AxeBuilder({ page }).include('.panel').analyze();
      return found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
    };
    const isTooWide = () => page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth);
    expect(await violations()).toEqual([]);
    await show(page, 'Which first');
    await page.getByTestId('ranking').waitFor();
    for (const summary of await page.locator('.input-section summary').all()) await summary.click();
    await page
      .getByTestId('ranking')
      .getByRole('button', { name: /Working/ })
      .first()
      .click();
    expect(await violations()).toEqual([]);
    expect(await isTooWide()).toBe(false);
    await show(page, 'Programme');
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByTestId('programme').waitFor({ timeout: 60_000 });
    expect(await violations()).toEqual([]);
    expect(await isTooWide()).toBe(false);
    await show(page, 'Traffic and beacons');
    await page.getByTestId('report-existing').waitFor();
    expect(await violations()).toEqual([]);
    expect(await isTooWide()).toBe(false);
    await close();
  });
});

/** `1,474 → 32`: what stands at the left. */
function toLeft(text: string): number {
  return Number((text.split(' → ')[0] ?? '').replaceAll(',', ''));
}
