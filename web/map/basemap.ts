import type { ErrorEvent, LayerSpecification, MapLibreMap, StyleSpecification } from 'maplibre-gl';
import { COLOURS } from './colours.ts';
import { mapWords } from './map-words.ts';
import { listBuiltInLayers } from './style/build-style.ts';

const PREFIX = 'basemap:';

/**
 * Lays a map style under the tunnels in place of the built-in map; where it cannot be had, the built-in map stays
 * and `onFailed` says why. Returns how to take it away.
 */
export function addBasemap(
  map: MapLibreMap,
  styleUrl: string,
  onFailed: (reason: string) => void,
): () => void {
  const fetching = new AbortController();
  let isTold = false;
  let hasTile = false;
  const fail = (reason: string) => {
    if (isTold || fetching.signal.aborted) return;
    isTold = true;
    remove(map);
    onFailed(reason);
  };
  const onError = (event: ErrorEvent) => {
    const { sourceId } = event as unknown as { sourceId?: string };
    // Single tiles may be missing once others came.
    if (sourceId?.startsWith(PREFIX) && !hasTile) fail(event.error.message);
  };
  const onData = (event: { sourceId?: string; tile?: unknown }) => {
    if (event.sourceId?.startsWith(PREFIX) && event.tile !== undefined) hasTile = true;
  };
  map.on('error', onError);
  map.on('sourcedata', onData);
  void fetchStyle(styleUrl, fetching.signal).then((fetched) => {
    if (fetching.signal.aborted) return;
    if (typeof fetched === 'string') fail(fetched);
    else tryLay(map, fetched, fail);
  });
  return () => {
    fetching.abort();
    map.off('error', onError);
    map.off('sourcedata', onData);
    remove(map);
  };
}

/** The style, or why there is none. */
async function fetchStyle(url: string, signal: AbortSignal): Promise<StyleSpecification | string> {
  try {
    const response = await fetch(url, { signal });
    if (!response.ok) return mapWords.basemapStatus(response.status);
    const style: unknown = await response.json();
    return isStyle(style) ? style : mapWords.basemapNotStyle;
  } catch (error) {
    return error instanceof SyntaxError ? mapWords.basemapNotStyle : mapWords.basemapNotReached;
  }
}

function isStyle(value: unknown): value is StyleSpecification {
  const style = value as Partial<StyleSpecification> | null;
  return typeof style === 'object' && Array.isArray(style?.layers) && typeof style.sources === 'object';
}

function tryLay(map: MapLibreMap, style: StyleSpecification, fail: (reason: string) => void): void {
  try {
    if (style.glyphs !== undefined) map.setGlyphs(style.glyphs);
    if (typeof style.sprite === 'string') map.setSprite(style.sprite);
    for (const [id, source] of Object.entries(style.sources)) map.addSource(PREFIX + id, source);
    for (const layer of style.layers) map.addLayer(rename(layer), FIRST_TUNNEL_LAYER);
    setBuiltInShown(map, false);
  } catch (error) {
    fail(error instanceof Error ? error.message : mapWords.basemapNotStyle);
  }
}

function rename(layer: LayerSpecification): LayerSpecification {
  const renamed = { ...layer, id: PREFIX + layer.id };
  return 'source' in renamed
    ? ({ ...renamed, source: PREFIX + renamed.source } as LayerSpecification)
    : renamed;
}

const FIRST_TUNNEL_LAYER = 'bore-halo';

function setBuiltInShown(map: MapLibreMap, isShown: boolean): void {
  for (const { id } of listBuiltInLayers(COLOURS.light)) {
    map.setLayoutProperty(id, 'visibility', isShown ? 'visible' : 'none');
  }
}

function remove(map: MapLibreMap): void {
  const { layers, sources } = map.getStyle();
  for (const { id } of layers) if (id.startsWith(PREFIX)) map.removeLayer(id);
  for (const id of Object.keys(sources)) if (id.startsWith(PREFIX)) map.removeSource(id);
  setBuiltInShown(map, true);
}
