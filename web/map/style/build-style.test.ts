import { validateStyleMin } from '@maplibre/maplibre-gl-style-spec';
import { describe, expect, it } from 'vitest';
import { COLOURS, type Theme } from '../colours.ts';
import { ICONS } from '../icons/list-icons.ts';
import { PROGRAMME_ICONS } from '../icons/programme-icons.ts';
import { listLegend } from '../list-legend.ts';
import { buildStyle, listLayers } from './build-style.ts';
import { BOLD, ITALIC, REGULAR } from './font-names.ts';
import { SOURCE_IDS, TILE_SOURCE } from './source-ids.ts';
import { toFilter } from './to-filter.ts';

const FACES = Object.fromEntries(
  [REGULAR, BOLD, ITALIC].map((name) => [name, 'https://here.test/face.woff2']),
);
const style = buildStyle(COLOURS.light, FACES);
const SHOW_ALL = { galleries: true, restricted: true, coverage: true, findings: true };

describe('buildStyle', () => {
  it.each(['light', 'dark'] as Theme[])('is a valid style in %s colours', (theme) => {
    expect(validateStyleMin(buildStyle(COLOURS[theme], FACES))).toEqual([]);
  });

  it('needs no server for glyphs or sprites', () => {
    expect(style).not.toHaveProperty('glyphs');
    expect(style).not.toHaveProperty('sprite');
  });

  it('has each layer once, on a source that is there, and uses every source', () => {
    const ids = style.layers.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const used = style.layers.flatMap((layer) => ('source' in layer ? [layer.source as string] : []));
    expect([...new Set(used)].sort()).toEqual([...SOURCE_IDS, TILE_SOURCE].sort());
  });

  it('asks only for faces that are bundled: a wrong name would fall back without a word', () => {
    const asked = style.layers.flatMap((layer) =>
      layer.type === 'symbol' && layer.layout?.['text-field'] !== undefined
        ? [(layer.layout['text-font'] as string[] | undefined)?.[0]]
        : [],
    );
    expect(asked.length).toBeGreaterThan(8);
    for (const name of asked) expect(Object.keys(FACES)).toContain(name);
  });

  it('draws only icons that exist', () => {
    const names = ICONS.map(({ name }) => name);
    const literal = style.layers.flatMap((layer) => {
      const image = layer.type === 'symbol' ? layer.layout?.['icon-image'] : undefined;
      return typeof image === 'string' ? [image] : [];
    });
    expect(literal).toContain('exit-arrow');
    for (const name of literal) expect(names).toContain(name);
  });

  it('explains what a newer extract would change only while it is looked at', () => {
    const words = (hasChanges: boolean) => listLegend(SHOW_ALL, hasChanges).map(([title]) => title);
    expect(words(true)).toEqual(['Newer map data', ...words(false)]);
  });

  it('explains the years of a plan only while it is looked at', () => {
    const plan = { years: [{ year: 1, ids: ['t1'] }], leftOut: ['t2', 't3'] };
    const [title, entries] = listLegend(SHOW_ALL, false, plan)[0] ?? [];
    expect(title).toBe('Programme');
    expect(entries).toEqual([
      { symbol: 'programme-1', word: 'Year 1: 1 tunnel' },
      { symbol: 'programme-out', word: 'Not in the programme: 2' },
    ]);
    const drawn = PROGRAMME_ICONS.map(({ name }) => name);
    for (const { symbol } of entries ?? []) expect(drawn).toContain(symbol);
    expect(listLegend(SHOW_ALL).map(([one]) => one)).not.toContain('Programme');
  });

  it('explains every icon in the legend, but for the arrow of one-way bores', () => {
    const explained = listLegend(SHOW_ALL).flatMap(([, entries]) => entries.map(({ symbol }) => symbol));
    const drawn = ICONS.map(({ name }) => name).filter(
      (name) => !['bore-arrow', 'exit-badge'].includes(name),
    );
    expect(explained).toEqual(expect.arrayContaining(drawn));
  });

  it('stays valid with the filters of any state', () => {
    const state = {
      show: { ...SHOW_ALL, galleries: false, restricted: false },
      shownComplexes: ['t1', 't2'],
      selectedComplex: 't1',
      selectedBeacon: undefined,
      designComplex: 't1',
      slidingBeacon: 'a.1',
    };
    const layers = listLayers(COLOURS.light).map((layer) => {
      const filter = toFilter(layer, state);
      return filter === undefined ? layer : { ...layer, filter };
    });
    expect(validateStyleMin({ ...style, layers: layers as never })).toEqual([]);
  });
});
