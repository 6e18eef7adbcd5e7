import type { Feature } from 'geojson';
import { makeFeature, toPosition } from '../export/make-collection.ts';
import { toBeaconFeatures } from '../export/to-beacon-features.ts';
import { toBoreFeatures, toDecisionFeatures, toPortalFeatures } from '../export/to-network-features.ts';
import type { Designed } from '../pipeline/to-survey-layers.ts';
import { findEquipment } from '../ranking/find-status.ts';
import { lookOf } from './look-of.ts';
import { SINGLE_BORE_ZOOM, type TileLayer } from './tile-layer.ts';
import { toBranches } from './to-branches.ts';

/**
 * One tunnel's features of a layer of the vector tiles: those of the hand-over's layer, with how they are drawn (`look`
 * of a bore, `icon` of a portal), and without what is a list or an object, which a tile cannot hold. `branches` are the
 * ways to go at the decisions.
 */
export function toTileFeatures(layer: TileLayer, designed: Designed, zoom: number): Feature[] {
  if (layer === 'bores' && zoom < SINGLE_BORE_ZOOM) return [toOneBore(designed)];
  return listFeatures(layer, designed).map((feature) => ({
    ...feature,
    properties: {
      ...(feature.id === undefined ? {} : { id: feature.id }),
      ...Object.fromEntries(
        Object.entries(feature.properties ?? {}).filter(([, value]) => typeof value !== 'object'),
      ),
    },
  }));
}

function listFeatures(layer: TileLayer, designed: Designed): Feature[] {
  const { network, design } = designed;
  switch (layer) {
    case 'bores': {
      const look = findLook(designed);
      return toBoreFeatures(network).map((bore) => withProperty(bore, { look }));
    }
    case 'portals':
      return toPortalFeatures(network).map((portal) => withProperty(portal, { icon: findIcon(portal) }));
    case 'decisions':
      return toDecisionFeatures(network, design.rules);
    case 'branches':
      return toBranches(toDecisionFeatures(network, design.rules), network.complex.name);
    case 'beacons':
      return toBeaconFeatures(network, design);
  }
}

function toOneBore(designed: Designed): Feature {
  const { complex, links } = designed.network;
  const { id, kind, restricted } = complex;
  return makeFeature(
    id,
    { type: 'MultiLineString', coordinates: links.map(({ line }) => line.map(toPosition)) },
    { complex: id, kind, restricted, look: findLook(designed) },
  );
}

function findLook({ network, design, existing = [] }: Designed) {
  const { kind, restricted } = network.complex;
  const { status } = findEquipment(network, design.rules, design.beacons.length, existing);
  return lookOf({ kind, restricted, status });
}

/** The name of a portal's symbol: by direction, or that the tunnel or the data end here. */
function findIcon({ properties }: Feature): string {
  if (properties?.deadEnd === true) return 'portal-dead-end';
  if (properties?.edgeOfExtract === true) return 'portal-edge';
  return `portal-${properties?.direction ?? 'both'}`;
}

function withProperty(feature: Feature, added: Readonly<Record<string, unknown>>): Feature {
  return { ...feature, properties: { ...feature.properties, ...added } };
}
