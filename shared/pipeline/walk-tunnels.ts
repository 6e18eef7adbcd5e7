import type { Feature } from 'geojson';
import type { TunnelMarks } from '../export/tunnel-marks.ts';
import type { ExportedLayer } from '../wire/layers.ts';
import { type Designed, toLayerFeatures } from './to-survey-layers.ts';

/** Tunnel after tunnel by name, each with its features in the order in which one comes by them: bore after bore, by chainage. */
export function* walkTunnels(
  layers: readonly ExportedLayer[],
  designed: readonly Designed[],
): Generator<TunnelMarks> {
  const named = designed.map((one) => ({ one, name: nameOf(one) }));
  named.sort(
    (a, b) => compare(a.name, b.name) || compare(a.one.network.complex.id, b.one.network.complex.id),
  );
  for (const { one, name } of named) {
    const parts = layers.map((layer) => ({ layer, features: inOrder(toLayerFeatures(layer, [one], [])) }));
    yield { name, parts: parts.filter(({ features }) => features.length > 0) };
  }
}

function nameOf({ network: { complex } }: Designed): string {
  return complex.name ?? (complex.ref === undefined ? `Tunnel ${complex.id}` : `Tunnel on ${complex.ref}`);
}

function inOrder(features: readonly Feature[]): Feature[] {
  const link = ({ properties }: Feature) => String(properties?.link ?? '');
  const chainageM = ({ properties }: Feature) => Number(properties?.chainageM ?? 0);
  return [...features].sort(
    (a, b) => compare(link(a), link(b)) || chainageM(a) - chainageM(b) || compare(String(a.id), String(b.id)),
  );
}

function compare(a: string, b: string): number {
  return a === b ? 0 : a < b ? -1 : 1;
}
