import type { ExpressionSpecification, FilterSpecification, LayerSpecification } from 'maplibre-gl';
import type { TileLayer } from '../../../shared/tiles/tile-layer.ts';
import type { MapViewProps } from '../map-types.ts';

/** What decides which features a layer shows, besides its own filter. */
export type FilterState = Pick<
  MapViewProps,
  'show' | 'shownComplexes' | 'selectedComplex' | 'selectedBeacon'
> & {
  readonly designComplex: string | undefined;
  /** Shown by its own source while it is dragged. */
  readonly slidingBeacon: string | undefined;
};

/** A layer's own filter and what is hidden now; undefined where nothing is filtered. */
export function toFilter(layer: LayerSpecification, state: FilterState): FilterSpecification | undefined {
  const own =
    'filter' in layer && layer.filter !== undefined ? [layer.filter as ExpressionSpecification] : [];
  const parts = [...own, ...listHidden(layer, state)];
  if (parts.length === 0) return undefined;
  return parts.length === 1 ? parts[0] : ['all', ...parts];
}

const TUNNEL_LAYERS: readonly unknown[] = ['bores', 'portals', 'decisions', 'branches'] satisfies TileLayer[];

function listHidden(layer: LayerSpecification, state: FilterState): ExpressionSpecification[] {
  const source = 'source' in layer ? layer.source : undefined;
  if (typeof source !== 'string') return [];
  const inTile = 'source-layer' in layer ? layer['source-layer'] : undefined;
  if (source === 'complex-labels' || TUNNEL_LAYERS.includes(inTile)) return [isShownTunnel(state)];
  if (inTile === ('beacons' satisfies TileLayer)) {
    return [['!=', ['get', 'complex'], state.designComplex ?? ''], ...listPassing(state)];
  }
  if (source === 'design-beacons') return listDesignFilters(layer.id, state);
  return [];
}

/** Galleries and restricted tunnels are shown when asked for; the selected one always. */
function isShownTunnel(state: FilterState): ExpressionSpecification {
  const { show, selectedComplex } = state;
  const shown: ExpressionSpecification[] = [];
  if (!show.galleries) shown.push(['==', ['get', 'kind'], 'tunnel']);
  if (!show.restricted) shown.push(['!=', ['get', 'restricted'], true]);
  return ['any', ['==', ['get', 'complex'], selectedComplex ?? ''], ['all', ...shown, ...listPassing(state)]];
}

/** What the table's filters leave. A match looks ids up, where `in` would go through thousands for every feature. */
function listPassing({ shownComplexes }: FilterState): ExpressionSpecification[] {
  if (shownComplexes === undefined) return [];
  if (shownComplexes.length === 0) return [['literal', false]];
  return [['match', ['get', 'complex'], [...shownComplexes], true, false]];
}

function listDesignFilters(
  id: string,
  { selectedBeacon, slidingBeacon }: FilterState,
): ExpressionSpecification[] {
  const isSliding: ExpressionSpecification = ['==', ['get', 'beacon'], slidingBeacon ?? ''];
  const isSelected: ExpressionSpecification = ['==', ['get', 'beacon'], selectedBeacon ?? ''];
  if (id === 'design-beacon-selected' || id === 'design-beacon-halo')
    return [['all', isSelected, ['!', isSliding]]];
  if (id === 'design-beacon-icons' || id === 'design-beacon-chainage') {
    return [['!', ['any', isSelected, isSliding]]];
  }
  return [];
}
