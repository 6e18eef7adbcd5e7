import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layer, open } from './page.ts';
import { chromium, type RunningApp, startApp } from './start-app.ts';

describe.skipIf(chromium === undefined)('the hand-over (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  beforeAll(async () => {
    app = await startApp(chromium as string);
  });
  afterAll(() => app?.stop());

  it('gives what was chosen, in the format that was chosen', async () => {
    const { page, faults, close } = await open(app);
    await page.getByRole('button', { name: 'Export' }).click();
    const dialog = page.getByRole('dialog', { name: 'Export Aldermouth (demo)' });
    const get = async () => {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        dialog.getByRole('button', { name: 'Export', exact: true }).click(),
      ]);
      return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
    };
    const whole = await get();
    expect(whole.name).toBe('aldermouth-demo.zip');
    const files = unzipSync(whole.bytes);
    expect(Object.keys(files)).toEqual(
      expect.arrayContaining(['complexes.geojson', 'beacons.geojson', 'survey.csv', 'LICENCE.txt']),
    );

    const beacons = await layer(app, 'beacons');
    const names = { GeoJSON: 'geojson', GeoPackage: 'gpkg', KML: 'kml', GPX: 'gpx' };
    for (const [format, extension] of Object.entries(names)) {
      await dialog.getByRole('radio', { name: new RegExp(`^${format}\\b`) }).check();
      const { name, bytes } = await get();
      expect(name).toBe(`aldermouth-demo.${extension}`);
      if (extension === 'geojson') {
        const { features } = JSON.parse(bytes.toString()) as { features: { properties: object }[] };
        expect(features.filter(({ properties }) => 'beacon' in properties)).toHaveLength(
          // Coverage names its beacon, too.
          beacons.length * 2,
        );
      }
    }
    await page.keyboard.press('Escape');

    // One tunnel, one layer: the table.
    await page.getByRole('searchbox').fill('quayside');
    await page.getByRole('button', { name: 'Export' }).click();
    await dialog.getByRole('radio', { name: /^Those in the table now \(1\)/ }).check();
    await dialog.getByRole('radio', { name: /^CSV/ }).check();
    for (const box of await dialog.getByRole('checkbox').all()) await box.uncheck();
    await dialog.getByText(/Choose/).waitFor();
    expect(await dialog.getByRole('button', { name: 'Export', exact: true }).isDisabled()).toBe(true);
    await dialog.getByRole('checkbox', { name: 'Beacons' }).check();
    const table = await get();
    const rows = table.bytes.toString().trim().split('\r\n');
    const ofOne = beacons.filter(({ id }) => rows.some((row) => row.includes(id)));
    expect(rows).toHaveLength(ofOne.length + 1);
    expect(new Set(ofOne.map(({ properties }) => properties.complex)).size).toBe(1);

    const axe = await new AxeBuilder({ page }).include('dialog[open]').analyze();
    expect(axe.violations.map(({ id }) => id)).toEqual([]);
    expect(faults).toEqual([]);
    await close();
  });

  it('prints a report on A4: summary, map, table, method, cautions', async () => {
    const { page, faults, close } = await open(app, { colorScheme: 'dark' });
    await page.getByRole('button', { name: 'Export' }).click();
    const dialog = page.getByRole('dialog', { name: 'Export Aldermouth (demo)' });
    await dialog.getByRole('radio', { name: /^Report to print/ }).check();
    await dialog.getByRole('button', { name: 'Open the report' }).click();
    await page.getByRole('heading', { name: 'Tunnel survey: Aldermouth (demo)' }).waitFor();
    await page.getByRole('img', { name: /^Map/ }).waitFor();
    const axe = await new AxeBuilder({ page }).analyze();
    expect(axe.violations.map(({ id }) => id)).toEqual([]);

    const pdf = await page.pdf({ preferCSSPageSize: true });
    const text = readPdf(pdf);
    for (const part of [
      'Summary',
      'Tunnels by rank',
      'Method',
      'Cautions',
      'Kell Hill Interchange',
      '1 / 5',
    ]) {
      expect(text.join('\n')).toContain(part);
    }
    expect(text).toHaveLength(5);
    expect(pageSize(pdf)).toEqual([595, 842]);

    await page.setViewportSize({ width: 390, height: 844 });
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(390);
    await page.getByRole('button', { name: 'Back to the survey' }).click();
    await page.getByText('Kell Hill Interchange').first().waitFor();
    expect(faults).toEqual([]);
    await close();
  });
});

/** The text of each page, by poppler's pdftotext. */
function readPdf(pdf: Uint8Array): readonly string[] {
  if (spawnSync('pdftotext', ['-v']).error !== undefined) {
    throw new Error('install poppler-utils: the report is read with its pdftotext');
  }
  const text = execFileSync('pdftotext', ['-layout', '-', '-'], { input: pdf, encoding: 'utf8' });
  return text.split('\f').filter((page) => page.trim() !== '');
}

/** Points, of the first page. */
function pageSize(pdf: Uint8Array): readonly number[] {
  const info = execFileSync('pdfinfo', ['-'], { input: pdf, encoding: 'utf8' });
  const [, width, height] = /Page size: +([\d.]+) x ([\d.]+)/.exec(info) ?? [];
  return [Math.round(Number(width)), Math.round(Number(height))];
}
