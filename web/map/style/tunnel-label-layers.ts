import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapColours } from '../colours.ts';
import { BOLD } from './font-names.ts';

/** Tunnel names: a label with the count of its exits far out, along the longest bore near by. */
export function listTunnelLabelLayers(colours: MapColours): LayerSpecification[] {
  const source = 'complex-labels';
  const isPoint: ExpressionSpecification = ['==', ['geometry-type'], 'Point'];
  const paint = {
    'text-color': [
      'match',
      ['get', 'look'],
      'undesigned',
      colours.undesigned,
      'gallery',
      colours.gallery,
      'restricted',
      colours.restricted,
      colours.planned,
    ],
    'text-halo-color': colours.labelHalo,
    'text-halo-width': 1.7,
  } as const;
  return [
    {
      id: 'complex-along',
      type: 'symbol',
      source,
      minzoom: 13,
      filter: ['==', ['geometry-type'], 'LineString'],
      layout: {
        'symbol-placement': 'line-center',
        'text-field': ['get', 'name'],
        'text-font': [BOLD],
        'text-size': ['interpolate', ['linear'], ['zoom'], 13, 11.5, 17, 14],
        'text-offset': [0, 1.5],
        'text-max-angle': 32,
        'text-letter-spacing': 0.02,
      },
      paint: paint as never,
    },
    {
      id: 'complex-label',
      type: 'symbol',
      source,
      maxzoom: 13,
      minzoom: 10,
      filter: isPoint,
      layout: {
        'text-field': ['get', 'name'],
        'text-font': [BOLD],
        'text-size': ['interpolate', ['linear'], ['zoom'], 10, 10.5, 13, 12.5],
        // Beside the line, whichever way it runs.
        'text-variable-anchor-offset': placesOfLabel(false),
        'text-max-width': 8,
        'text-justify': 'auto',
        'symbol-sort-key': ['-', 0, ['get', 'lengthM']],
      },
      paint: paint as never,
    },
    // Above the names: those make room for it.
    {
      id: 'complex-exit-badge',
      type: 'symbol',
      source,
      maxzoom: 13,
      minzoom: 10,
      filter: ['all', isPoint, hasExits],
      layout: {
        'icon-image': 'exit-badge',
        'icon-allow-overlap': true,
        'text-field': ['to-string', ['get', 'exitCount']],
        'text-font': [BOLD],
        'text-size': 11,
        'text-allow-overlap': true,
        'text-offset': [0, 0.05],
      },
      paint: { 'text-color': colours.paper },
    },
  ];
}

/** Where a name may stand about its tunnel's middle; farther from it where the mark of a plan is there. */
export function placesOfLabel(hasMarks: boolean): ExpressionSpecification {
  return [
    'case',
    ['get', 'isFlat'],
    hasMarks ? listAbove(MARK_EM) : ['case', hasExits, listAbove(BADGE_EM), listAbove(LINE_EM)],
    hasMarks ? listBeside(MARK_EM) : ['case', hasExits, listBeside(BADGE_EM), listBeside(LINE_EM)],
  ];
}

const hasExits: ExpressionSpecification = ['>', ['get', 'exitCount'], 0];
/** How far a name is from a line, a count of exits, the year of a plan, in ems. */
const [LINE_EM, BADGE_EM, MARK_EM] = [0.7, 1.1, 1.6];

function listAbove(gapEm: number): ExpressionSpecification {
  return ['literal', listPlaces(['bottom', 'top', 'left', 'right'], gapEm)];
}

function listBeside(gapEm: number): ExpressionSpecification {
  return ['literal', listPlaces(['left', 'right', 'top', 'bottom'], gapEm)];
}

type Anchor = 'left' | 'right' | 'top' | 'bottom';

/** Anchors in the order they are tried, each with its offset in ems. */
function listPlaces(anchors: Anchor[], gapEm: number): (Anchor | [number, number])[] {
  const offsets: Record<Anchor, [number, number]> = {
    left: [gapEm, 0],
    right: [-gapEm, 0],
    top: [0, gapEm],
    bottom: [0, -gapEm],
  };
  return anchors.flatMap((anchor) => [anchor, offsets[anchor]]);
}
