import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildDrive } from '../../shared/drive/build-drive.ts';
import type { Drive, ErrorBand } from '../../shared/drive/drive.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { layer, open } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

const TUNNEL = 'Kell Hill Interchange';

describe.skipIf(chromium === undefined)('the drive (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  const openDrive = async (page: Page, tunnel = TUNNEL) => {
    await page.getByText(tunnel).first().click();
    const section = page.getByRole('region', { name: 'Drive' });
    await section.locator('summary').first().click();
    await section.getByRole('img').waitFor();
    return section;
  };

  /** The drive of the design that the server has, by the shared core alone. */
  const driveSaved = async (): Promise<Drive> => {
    const named = (await layer(app, 'complexes')).find(({ properties }) => properties.name === TUNNEL);
    const response = await fetch(`${app.url}/api/surveys/aldermouth/complexes/${named?.id}`);
    const { network, scheme } = (await response.json()) as { network: ComplexNetwork; scheme: Scheme };
    return buildDrive(network, designComplex(network, DEFAULT_RULES, scheme).value);
  };

  const one = new Intl.NumberFormat('en-GB', { minimumFractionDigits: 1, maximumFractionDigits: 1 });

  it('shows what the shared core computes: errors along the chosen route, failures at its decision points', async () => {
    const { page, faults, close } = await open(app);
    const section = await openDrive(page);
    const { routes, decisions, branches } = await driveSaved();
    const options = section.getByRole('combobox', { name: 'Route' }).locator('option');
    expect(await options.count()).toBe(routes.length);
    // The last one with a decision is not the one that is shown first.
    const route = routes.findLast(({ routeId }) => decisions.some((each) => each.routeId === routeId));
    if (route === undefined) throw new Error('no route with a decision');
    await section.getByRole('combobox', { name: 'Route' }).selectOption(route.routeId);

    const place = route.atM.length - 1;
    const said = ({ p5, p50, p95 }: ErrorBand) =>
      `${one.format(p50[place] ?? 0)} m (5–95 %: ${one.format(p5[place] ?? 0)} to ${one.format(p95[place] ?? 0)} m)`;
    await expect
      .poll(() => section.getByTestId('drive-readout').locator('dd').allTextContents())
      .toEqual([said(route.errorM.without), said(route.errorM.with)]);

    const met = decisions.filter((each) => each.routeId === route.routeId);
    const table = section.getByTestId('drive-decisions');
    for (const kind of ['late', 'early'] as const) {
      expect(await table.getByTestId(kind).allTextContents()).toEqual(
        met.map(({ failures }) =>
          [failures.without, failures.with].map((each) => one.format(each[kind] * 100)).join(' → '),
        ),
      );
    }
    expect(await section.locator('path.decision').count()).toBe(met.length + 1);
    expect(await section.getByTestId('drive-branches').locator('tbody tr').count()).toBe(branches.length);
    await section.getByText('2,000 drives a route, seed 1').waitFor();
    expect(faults).toEqual([]);
    await close();
  });

  it('tells fewer failures with the design, and how they are judged', async () => {
    const { page, close } = await open(app);
    const section = await openDrive(page);
    const table = section.getByTestId('drive-decisions');
    const texts = [
      ...(await table.getByTestId('late').allTextContents()),
      ...(await table.getByTestId('early').allTextContents()),
    ];
    const pairs = texts.map((text) => text.split(' → ').map(Number) as [number, number]);
    const sum = (which: 0 | 1) => pairs.reduce((total, pair) => total + pair[which], 0);
    expect(sum(0)).toBeGreaterThan(5);
    expect(sum(1)).toBeLessThan(sum(0) / 2);

    const [sight, told, lag] = (await table.locator('tbody').first().locator('td').allTextContents()).map(
      Number,
    );
    await table.getByText('Working').first().click();
    const working = (await table.locator('details').first().textContent()) ?? '';
    const sums = /more than ([\d.]+) − ([\d.]+) \(sight\) \+ ([\d.]+) \(tolerance\) = ([\d.]+) m/.exec(
      working,
    );
    const [announceM, sightM, toleranceM, lateM] = (sums ?? []).slice(1).map(Number) as number[];
    expect([announceM, sightM, lateM].map((value) => Math.round(value ?? 0))).toEqual([told, sight, lag]);
    expect((announceM ?? 0) - (sightM ?? 0) + (toleranceM ?? 0)).toBeCloseTo(lateM ?? 0, 0);
    await close();
  });

  it('lets beacons be dead: the error grows where they are, and nothing is saved', async () => {
    const { page, close } = await open(app);
    const section = await openDrive(page);
    const image = section.getByRole('img');
    expect(await section.locator('path.dead-beacon').count()).toBe(0);
    const readout = section.getByTestId('drive-readout').locator('dd');
    const [withoutBefore, withBefore] = await readout.allTextContents();
    await section.getByText('What if beacons are dead?').click();
    const boxes = section.locator('.drive-dead').getByRole('checkbox');
    const count = await boxes.count();
    // The last ones before the exit portal, where the figures are read.
    for (let i = count - 4; i < count; i += 1) await boxes.nth(i).check();
    await expect.poll(() => readout.nth(1).textContent()).not.toBe(withBefore);
    expect(await readout.first().textContent()).toBe(withoutBefore);
    const spread = (text: string | null | undefined) => {
      const [, low, high] = /: (-?[\d.]+) to (-?[\d.]+) m/.exec(text ?? '') ?? [];
      return Number(high) - Number(low);
    };
    await expect
      .poll(async () => spread(await readout.nth(1).textContent()))
      .toBeGreaterThan(2 * spread(withBefore));
    expect(await image.locator('path.dead-beacon').count()).toBe(4);
    await section.getByRole('button', { name: 'None dead' }).click();
    await expect.poll(() => readout.nth(1).textContent()).toBe(withBefore);
    expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
    await close();
  });

  it('says why a short tunnel has no beacons, and shows its error all the same', async () => {
    const { page, close } = await open(app);
    const section = await openDrive(page, 'Saltern Underpass');
    await section
      .getByText(/No beacons are laid here: 7\.\d s without satellites is less than the 10\.0 s/)
      .waitFor();
    expect(await section.getByTestId('drive-readout').locator('dd').count()).toBe(1);
    expect(await section.getByTestId('early').first().textContent()).toMatch(/^\d+\.\d$/);
    await close();
  });

  it('reads out the place that arrow keys choose, and follows the rules', async () => {
    const { page, close } = await open(app);
    const section = await openDrive(page);
    const readout = section.getByTestId('drive-readout');
    const atExit = await readout.textContent();
    const slider = section.getByRole('slider', { name: 'Place on the route' });
    await slider.press('Home');
    await section.getByText('At 0+000').waitFor();
    expect(await readout.textContent()).not.toBe(atExit);
    await slider.press('End');
    await expect.poll(() => readout.textContent()).toBe(atExit);

    const [withoutAt, withAt] = await readout.locator('dd').allTextContents();
    await page.getByRole('spinbutton', { name: 'Spacing', exact: true }).fill('150');
    await expect.poll(() => readout.locator('dd').nth(1).textContent()).not.toBe(withAt);
    expect(await readout.locator('dd').first().textContent()).toBe(withoutAt);

    await page.getByText('Other rules').click();
    await page.getByRole('spinbutton', { name: 'Mean speed', exact: true }).fill('0.8');
    await expect.poll(() => readout.locator('dd').first().textContent()).not.toBe(withoutAt);

    const box = await section.getByRole('img').boundingBox();
    if (box === null) throw new Error('no chart');
    await section.getByRole('img').hover({ position: { x: 41, y: 100 } });
    await section.getByText('At 0+000').waitFor();
    await section.getByRole('img').hover({ position: { x: box.width / 2, y: 100 } });
    await expect.poll(() => section.getByText(/^At \d/).textContent()).not.toBe('At 0+000');
    await close();
  });

  it('computes only while it is open, and says so where that fails', async () => {
    const { page, close } = await open(app);
    const asked: string[] = [];
    await page.context().route(/drive-worker/, (route) => {
      asked.push(route.request().url());
      return route.abort();
    });
    await page.getByText(TUNNEL).first().click();
    const section = page.getByRole('region', { name: 'Drive' });
    await section.waitFor();
    await page
      .getByTestId('result')
      .filter({ hasText: /\d+ beacons/ })
      .waitFor();
    expect(asked).toEqual([]);
    await section.locator('summary').first().click();
    await section.getByRole('alert').filter({ hasText: 'The drives could not be computed' }).waitFor();
    expect(asked).toHaveLength(1);
    await close();
  });

  it.each(['light', 'dark'] as const)('has no serious accessibility fault: %s', async (colorScheme) => {
    const { page, close } = await open(app, { colorScheme, viewport: { width: 390, height: 844 } });
    const section = await openDrive(page);
    await section.getByText('What if beacons are dead?').click();
    await section.getByTestId('drive-decisions').getByText('Working').first().click();
    const { violations } = await new AxeBuilder({ page }).include('.drive').analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    expect(await section.evaluate((box) => box.scrollWidth - box.clientWidth)).toBe(0);
    await close();
  });
});
