import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { COLOURS, type MapColours } from '../colours.ts';
import { PROGRAMME_COLOURS } from '../programme-colours.ts';

/** A band under the bores in the colour of the year in which they are equipped. */
export function listProgrammeBands(colours: MapColours): LayerSpecification[] {
  const tones = PROGRAMME_COLOURS[colours === COLOURS.dark ? 'dark' : 'light'];
  const [first, ...others] = tones as [string, ...string[]];
  const color = ['match', ['get', 'tone'], ...others.flatMap((tone, i) => [i + 1, tone]), first];
  return [
    {
      id: 'programme-band',
      type: 'line',
      source: 'programme',
      filter: ['!=', ['geometry-type'], 'Point'],
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: {
        'line-color': color as unknown as ExpressionSpecification,
        'line-width': ['interpolate', ['exponential', 1.4], ['zoom'], 8, 6, 12, 11, 14, 14, 16, 22, 19, 58],
      },
    },
  ];
}

/** The number of the year on every tunnel, above all else; what is left out gives way. */
export function listProgrammeMarks(): LayerSpecification[] {
  const common = { type: 'symbol', source: 'programme' } as const;
  const isYear: ExpressionSpecification = ['has', 'year'];
  return [
    {
      ...common,
      id: 'programme-out',
      filter: ['all', ['==', ['geometry-type'], 'Point'], ['!', isYear]],
      layout: {
        'icon-image': ['get', 'icon'],
        'symbol-sort-key': ['-', 0, ['get', 'lengthM']],
      },
    },
    {
      ...common,
      id: 'programme-year',
      filter: ['all', ['==', ['geometry-type'], 'Point'], isYear],
      layout: {
        'icon-image': ['get', 'icon'],
        // The first year lies on top where they meet.
        'symbol-sort-key': ['-', 0, ['get', 'year']],
        'icon-allow-overlap': true,
      },
    },
  ];
}
