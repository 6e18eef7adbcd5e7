import type { Feature } from 'geojson';
import type { ExportedLayer } from '../wire/layers.ts';

/** One tunnel with what a crew looks for in it, layer by layer. */
export type TunnelMarks = {
  readonly name: string;
  readonly parts: readonly { readonly layer: ExportedLayer; readonly features: readonly Feature[] }[];
};

/** What each layer is called where people read it. */
export const LAYER_TITLES: Readonly<Record<ExportedLayer, string>> = {
  complexes: 'Tunnels',
  bores: 'Bores',
  portals: 'Portals',
  decisions: 'Decision points',
  features: 'Features along the bores',
  beacons: 'Beacons',
  coverage: 'Coverage',
};
