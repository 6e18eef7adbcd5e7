import type { FeatureCollection } from 'geojson';
import type { GeoJSONSource, MapLibreMap, VectorTileSource } from 'maplibre-gl';
import { COLOURS } from './colours.ts';
import { diffFeatures } from './features/diff-features.ts';
import { toComplexLabels } from './features/to-complex-labels.ts';
import { withOuterSea } from './features/to-outer-sea.ts';
import { toProgrammeFeatures } from './features/to-programme-features.ts';
import { ICONS } from './icons/list-icons.ts';
import { ICON_RATIO, paintIcon } from './icons/paint-icon.ts';
import { PROGRAMME_ICONS } from './icons/programme-icons.ts';
import type { MapViewProps } from './map-types.ts';
import { listLayers } from './style/build-style.ts';
import type { SourceId } from './style/source-ids.ts';
import { type FilterState, toFilter } from './style/to-filter.ts';
import { placesOfLabel } from './style/tunnel-label-layers.ts';
import { toTileUrl } from './tile-url.ts';

const EMPTY: FeatureCollection = { type: 'FeatureCollection', features: [] };

/** Brings colours, data and highlights of the map to its props; does nothing for what is as it was before. */
export function applyProps(map: MapLibreMap, props: MapViewProps, before: MapViewProps | undefined): void {
  if (before?.theme !== props.theme) applyTheme(map, props.theme, before === undefined);
  applyTiles(map, props, before);
  applyLayers(map, props, before);
  applyDesign(map, props, before);
  if (props.changes !== before?.changes) setData(map, 'changes', props.changes);
  applyProgramme(map, props, before);
  applyShow(map, props);
  applyStates(map, props, before);
}

/** Fills one source; undefined empties it. */
export function setData(map: MapLibreMap, id: SourceId, data: FeatureCollection | undefined): void {
  map.getSource<GeoJSONSource>(id)?.setData(data ?? EMPTY);
}

/** New colours on the layers that are there: sources, filters and what is selected stay. */
function applyTheme(map: MapLibreMap, theme: MapViewProps['theme'], isFirst: boolean): void {
  const colours = COLOURS[theme];
  for (const icon of [...ICONS, ...PROGRAMME_ICONS]) {
    const image = paintIcon(icon, colours);
    if (map.hasImage(icon.name)) map.updateImage(icon.name, image);
    else map.addImage(icon.name, image, { pixelRatio: ICON_RATIO });
  }
  if (isFirst) return;
  for (const layer of listLayers(colours)) {
    for (const [name, value] of Object.entries(layer.paint ?? {})) {
      map.setPaintProperty(layer.id, name as never, value as never);
    }
  }
}

function applyTiles(map: MapLibreMap, { tiles }: MapViewProps, before: MapViewProps | undefined): void {
  const url = toTileUrl(tiles, document.baseURI);
  if (before === undefined || url !== toTileUrl(before.tiles, document.baseURI)) {
    map.getSource<VectorTileSource>('tunnels')?.setTiles([url]);
  }
}

function applyLayers(map: MapLibreMap, { layers }: MapViewProps, before: MapViewProps | undefined): void {
  const was = before?.layers;
  if (layers === was) return;
  const changed = (name: keyof NonNullable<typeof layers>) => layers?.[name] !== was?.[name];
  if (changed('context'))
    setData(map, 'context', layers === undefined ? EMPTY : withOuterSea(layers.context));
  if (changed('complexes')) {
    setData(map, 'complex-labels', layers === undefined ? EMPTY : toComplexLabels(layers.complexes));
  }
  if (changed('findings')) setData(map, 'findings', layers?.findings ?? EMPTY);
}

/** The years of a plan stand where the counts of exits are: those make room. */
function applyProgramme(map: MapLibreMap, props: MapViewProps, before: MapViewProps | undefined): void {
  const { programme, layers } = props;
  if (programme === before?.programme && layers?.complexes === before?.layers?.complexes) return;
  const isShown = programme !== undefined && layers !== undefined;
  setData(map, 'programme', isShown ? toProgrammeFeatures(layers.complexes, programme) : undefined);
  map.setLayoutProperty('complex-exit-badge', 'visibility', isShown ? 'none' : 'visible');
  map.setLayoutProperty('complex-label', 'text-variable-anchor-offset', placesOfLabel(isShown));
}

/** Within one tunnel only what changed is sent: it is asked for at every step of a drag. */
function applyDesign(map: MapLibreMap, { design }: MapViewProps, before: MapViewProps | undefined): void {
  const was = before?.design;
  if (design === was) return;
  const isSame = design?.network.complex.id === was?.network.complex.id;
  for (const [id, name] of [
    ['design-beacons', 'beacons'],
    ['design-coverage', 'coverage'],
    ['design-keep-outs', 'keepOuts'],
  ] as const) {
    const source = map.getSource<GeoJSONSource>(id);
    if (design === undefined || was === undefined || !isSame) {
      source?.setData(design?.[name] ?? EMPTY);
    } else {
      const diff = diffFeatures(was[name], design[name]);
      if (diff !== undefined) source?.updateData(diff);
    }
  }
}

/** Hides what is switched off, and what another layer draws; nothing to do where `before` said the same. */
export function applyFilters(map: MapLibreMap, state: FilterState, before: FilterState | undefined): void {
  if (before !== undefined && isSame(state, before)) return;
  for (const layer of LAYERS) {
    const filter = toFilter(layer, state);
    if (filter !== undefined) map.setFilter(layer.id, filter);
  }
}

/** What the filters are made from. */
export function toFilterState(props: MapViewProps, slidingBeacon: string | undefined): FilterState {
  const { show, shownComplexes, selectedComplex, selectedBeacon, design } = props;
  const designComplex = design?.network.complex.id;
  return { show, shownComplexes, selectedComplex, selectedBeacon, designComplex, slidingBeacon };
}

function isSame(a: FilterState, b: FilterState): boolean {
  const { show: showA, ...restA } = a;
  const { show: showB, ...restB } = b;
  const isEqual = <T extends object>(one: T, other: T) =>
    (Object.keys(one) as (keyof T)[]).every((key) => one[key] === other[key]);
  return isEqual(showA, showB) && isEqual(restA, restB);
}

/** For their filters only, which have no colours. */
const LAYERS = listLayers(COLOURS.light);

function applyShow(map: MapLibreMap, { show }: MapViewProps): void {
  const toggle = (id: string, isShown: boolean) =>
    map.setLayoutProperty(id, 'visibility', isShown ? 'visible' : 'none');
  toggle('coverage', show.coverage);
  toggle('coverage-edge', show.coverage);
  toggle('findings', show.findings);
}

function applyStates(map: MapLibreMap, props: MapViewProps, before: MapViewProps | undefined): void {
  for (const [state, id, was] of [
    ['selected', props.selectedComplex, before?.selectedComplex],
    ['hovered', props.hoveredComplex, before?.hoveredComplex],
  ] as const) {
    if (id === was) continue;
    const bores = { source: 'tunnels', sourceLayer: 'bores' };
    if (was !== undefined) map.setFeatureState({ ...bores, id: was }, { [state]: false });
    if (id !== undefined) map.setFeatureState({ ...bores, id }, { [state]: true });
  }
}
