import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { layer, mapIdle, open, saved, selected } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('keep-outs (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('are marked around a beacon, which goes to a free place, survive a reload, and are taken back', async () => {
    const { page, faults, close } = await open(app);
    await openTunnel(page, 'Tolland Tunnel');
    const section = page.getByRole('region', { name: 'Keep-outs' });
    expect(await section.getByTestId('keep-out-count').textContent()).toBe('none');

    const { id, chainageM } = await chooseBeacon(app, page);
    await page.getByRole('button', { name: 'Keep-out here' }).click();
    const ends = async () =>
      Promise.all(['From', 'To'].map((name) => section.getByLabel(name, { exact: true }).inputValue()));
    const [from, to] = (await ends()).map(Number) as [number, number];
    expect([from, to].map((endM) => Math.abs(endM - chainageM) <= 2.1)).toEqual([true, true]);
    await section.getByLabel('Reason').fill('Fan');
    await section.getByRole('button', { name: 'Add keep-out' }).click();
    await saved(page);
    const { keepOuts } = await schemeOf(app, page);
    expect(keepOuts).toMatchObject([{ fromM: from, toM: to, reason: 'Fan' }]);
    expect(await ends()).toEqual(['', '']);

    // None stands in it any more; the nearest one is close by.
    const places = async () =>
      (await layer(app, 'beacons'))
        .filter(({ properties }) => properties.link === keepOuts[0]?.linkId)
        .map(({ properties }) => Number(properties.chainageM));
    expect((await places()).filter((atM) => atM > from && atM < to)).toEqual([]);
    expect(Math.min(...(await places()).map((atM) => Math.abs(atM - chainageM)))).toBeLessThan(10);

    await page.reload();
    await mapIdle(page);
    await section.getByText('Keep-outs').click();
    await section.getByText(/right wall · 4\.[01] m · Fan/).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await saved(page);
    expect((await schemeOf(app, page)).keepOuts).toEqual([]);
    expect(await section.getByTestId('keep-out-count').textContent()).toBe('none');
    const back = (await layer(app, 'beacons')).find((one) => one.properties.beacon === id);
    expect(Number(back?.properties.chainageM)).toBeCloseTo(chainageM, 3);
    expect(faults).toEqual([]);
    await close();
  });

  it('are typed by keyboard, told what is wrong, shown, and removed', async () => {
    const { page, faults, close } = await open(app);
    await openTunnel(page, 'Tolland Tunnel');
    const section = page.getByRole('region', { name: 'Keep-outs' });
    await section.getByText('Keep-outs').click();
    const [from, to] = ['From', 'To'].map((name) => section.getByLabel(name, { exact: true })) as [
      ReturnType<typeof section.getByLabel>,
      ReturnType<typeof section.getByLabel>,
    ];
    await from.press('Enter');
    await section.getByText('From: Give a chainage.').waitFor();
    await from.fill('0+120');
    await to.fill('110');
    await section.getByText('To: Must lie past the start.').waitFor();
    await to.fill('99+000');
    await section.getByText(/^To: At most /).waitFor();
    await to.press('Escape');
    expect([await from.inputValue(), await to.inputValue()]).toEqual(['', '']);
    expect((await schemeOf(app, page)).keepOuts).toEqual([]);

    await from.fill('0+120');
    await to.fill('124,5');
    await section.getByText('Left', { exact: true }).click();
    await to.press('Enter');
    await saved(page);
    expect((await schemeOf(app, page)).keepOuts).toMatchObject([{ fromM: 120, toM: 124.5, wall: 'left' }]);
    await section.getByRole('button', { name: 'Show the keep-out 0+120.0 to 0+124.5 on the map' }).click();
    await mapIdle(page);
    await section.getByRole('button', { name: 'Remove the keep-out 0+120.0 to 0+124.5' }).click();
    await saved(page);
    expect((await schemeOf(app, page)).keepOuts).toEqual([]);
    expect(faults).toEqual([]);
    await close();
  });

  it('a beacon gets a wall and a reach of its own, is locked, and given back to the rules', async () => {
    const { page, faults, close } = await open(app);
    await openTunnel(page, 'Wrenlow Tunnel');
    const { id, chainageM } = await chooseBeacon(app, page);
    const pinOf = async () => (await schemeOf(app, page)).pinned.find((pin) => pin.id === id);
    const sideOf = async () =>
      (await layer(app, 'beacons')).find((one) => one.properties.beacon === id)?.properties.side;

    await page.getByRole('button', { name: 'Lock here' }).click();
    await saved(page);
    expect((await pinOf())?.at.chainageM).toBeCloseTo(chainageM, 3);
    const wall = (await pinOf())?.wall;
    const other = wall === 'left' ? 'right' : 'left';
    await page.getByRole('radio', { name: other, exact: true }).check();
    await saved(page);
    await expect.poll(sideOf).toBe(other);
    expect((await pinOf())?.at.chainageM).toBeCloseTo(chainageM, 3);

    const radius = page.getByRole('textbox', { name: 'Heard within, m' });
    await radius.fill('1');
    await page.getByText('Between 5 and 500 m').waitFor();
    await radius.fill('25');
    await radius.press('Enter');
    await saved(page);
    expect(await pinOf()).toMatchObject({ radiusM: 25, wall: other });
    // A beacon that is moved stays on its wall and keeps its reach.
    await page.getByRole('button', { name: '1 m on' }).click();
    await expect.poll(async () => (await pinOf())?.at.chainageM).toBeCloseTo(chainageM + 1, 3);
    expect(await pinOf()).toMatchObject({ radiusM: 25, wall: other });
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => (await pinOf())?.at.chainageM).toBeCloseTo(chainageM, 3);

    await page.getByRole('button', { name: 'Back to the tunnel’s coverage radius' }).click();
    await saved(page);
    await expect.poll(async () => 'radiusM' in ((await pinOf()) ?? {})).toBe(false);
    await page.getByRole('button', { name: 'Back to automatic' }).click();
    await saved(page);
    await expect.poll(pinOf).toBeUndefined();
    await expect.poll(sideOf).toBe(wall);
    expect(faults).toEqual([]);
    await close();
  });

  it('on a small screen a keep-out is marked from a beacon, and nothing reaches beyond the side', async () => {
    const { page, faults, close } = await open(app, { viewport: { width: 390, height: 844 } });
    await openTunnel(page, 'Tolland Tunnel');
    await chooseBeacon(app, page);
    await page.getByText('Wall, reach, keep-out').click();
    await page.getByRole('button', { name: 'Keep-out here' }).click();
    const add = page.getByRole('button', { name: 'Add keep-out' });
    await add.click();
    await saved(page);
    expect((await schemeOf(app, page)).keepOuts).toHaveLength(1);
    await page.getByText('Other rules').click();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(await listCut(page)).toEqual([]);
    expect(faults).toEqual([]);
    await close();
  });
});

async function openTunnel(page: Page, name: string): Promise<void> {
  await page.getByText(name).first().click();
  await page.getByText(/\d+ beacons at 40 m/).waitFor();
}

/** Chooses a beacon in the middle of its link by the list. */
async function chooseBeacon(app: RunningApp, page: Page): Promise<{ id: string; chainageM: number }> {
  await page
    .getByRole('row', { name: /^0\+(0[5-9]|1[0-2])\d .* spacing/ })
    .first()
    .click();
  const id = await selected(page);
  const beacon = (await layer(app, 'beacons')).find(({ properties }) => properties.beacon === id);
  return { id, chainageM: Number(beacon?.properties.chainageM) };
}

/** Texts and fields of the sheet that are cut off. */
async function listCut(page: Page): Promise<readonly string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll('.rules *, .keep-outs *')]
      .filter((one) => one.clientWidth > 0 && getComputedStyle(one).display !== 'inline')
      .filter((one) => one.scrollWidth > one.clientWidth + 1)
      .map((one) => `${one.tagName} ${one.textContent}`),
  );
}

/** The scheme of the tunnel that the page shows, as the server has it. */
async function schemeOf(app: RunningApp, page: Page): Promise<Scheme> {
  const tunnel = new URL(page.url()).searchParams.get('tunnel');
  const response = await fetch(`${app.url}/api/surveys/aldermouth/complexes/${tunnel}`);
  return ((await response.json()) as { scheme: Scheme }).scheme;
}
