import type { Feature } from 'geojson';
import type { ExportedLayer } from '../wire/layers.ts';

type Properties = Readonly<Record<string, unknown>>;

/** What a crew calls a point or a bore: `Beacon 0+120 right`. Two may be called the same. */
export function nameMark(layer: ExportedLayer, { properties }: Feature): string {
  const of = (properties ?? {}) as Properties;
  switch (layer) {
    case 'beacons':
      return `Beacon ${toChainage(of.chainageM)} ${of.side}`;
    case 'portals':
      return `Portal ${of.direction === 'both' ? 'in and out' : of.direction}`;
    case 'decisions':
      return `Decision point ${of.where}`;
    case 'features':
      return `${capital(String(of.feature))} ${toChainage(of.chainageM)}`;
    default:
      return `Bore ${of.link}`;
  }
}

/** One line with what else a crew needs: which bore, how high, how far. */
export function describeMark(layer: ExportedLayer, { properties }: Feature): string {
  const of = (properties ?? {}) as Properties;
  const parts: Readonly<Partial<Record<ExportedLayer, readonly unknown[]>>> = {
    beacons: [
      `bore ${of.link}`,
      `chainage ${of.chainageM} m`,
      `${of.side} wall in the direction of chainage`,
      `${of.heightM} m high`,
      `${of.role}`,
      `${of.state}`,
    ],
    portals: [`node ${of.osmNode} of the map`, of.edgeOfExtract === true && 'the map data end here'],
    decisions: [`node ${of.osmNode} of the map`, `${of.distanceFromFixM} m after the last fix`],
    features: [`bore ${of.link}`, `chainage ${of.chainageM} m`, of.label],
    bores: [
      `${of.lengthM} m`,
      of.oneway === true ? 'one-way' : 'two-way',
      `${of.lanes} lanes`,
      `${of.maxspeedKmh} km/h`,
    ],
  };
  return (parts[layer] ?? []).filter((part) => typeof part === 'string').join(', ');
}

/** Kilometres, plus, metres: `1+240`. */
function toChainage(chainageM: unknown): string {
  const metres = Math.round(Number(chainageM));
  return `${Math.floor(metres / 1000)}+${String(metres % 1000).padStart(3, '0')}`;
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
