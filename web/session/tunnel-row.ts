import type { Feature, Position } from 'geojson';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import type { TunnelKind } from '../../shared/network/network.ts';
import { words } from '../words.ts';

export type TunnelStatus = 'none' | 'planned' | 'partly equipped' | 'equipped';

/** One line of the table: a tunnel with its figures. */
export type TunnelRow = {
  readonly id: string;
  /** The name, or words that say where an unnamed one is. */
  readonly name: string;
  readonly ref: string | undefined;
  readonly kind: TunnelKind;
  /** Of its longest bore, as OpenStreetMap's `highway` has it. */
  readonly roadClass: string;
  readonly restricted: boolean;
  readonly exitCount: number;
  readonly lengthM: number;
  readonly longestRouteM: number;
  readonly boreCount: number;
  readonly portalCount: number;
  readonly divergeCount: number;
  readonly mergeCount: number;
  readonly decisionCount: number;
  readonly maxspeedKmh: number;
  readonly outageS: number;
  readonly assumed: readonly string[];
  readonly beaconCount: number;
  readonly status: TunnelStatus;
  /** Beacons of an imported inventory that are there already. */
  readonly existingCount?: number;
  /** Place in the order of the survey, 1 first; absent, like the next four, for what is not ranked. */
  readonly rank?: number;
  readonly misguidedPerDay?: number;
  readonly misguidedPerDayWithDesign?: number;
  readonly vehiclesPerDay?: number;
  /** Units of money. */
  readonly cost?: number;
  readonly osmWays: readonly number[];
  readonly bbox: BBox;
};

type Properties = Omit<TunnelRow, 'id' | 'name' | 'bbox'> & { readonly name?: string };

/** Reads a row from a feature of the `complexes` layer. */
export function toTunnelRow(feature: Feature): TunnelRow {
  const { name, ...figures } = feature.properties as Properties;
  const coordinates = feature.geometry.type === 'MultiLineString' ? feature.geometry.coordinates.flat() : [];
  return {
    ...figures,
    ref: figures.ref,
    id: String(feature.id),
    name: name ?? words.tunnel.unnamed(figures.ref, figures.roadClass),
    bbox: toBounds(coordinates),
  };
}

function toBounds(positions: readonly Position[]): BBox {
  const lons = positions.map((position) => position[0] ?? 0);
  const lats = positions.map((position) => position[1] ?? 0);
  return [Math.min(...lons), Math.min(...lats), Math.max(...lons), Math.max(...lats)];
}
