import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import {
  FORMAT_NAMES,
  HAND_OVER_FORMATS,
  type HandOverFormat,
  type HandOverRequest,
} from '../../shared/wire/hand-over.ts';
import { EXPORTED_LAYERS, type ExportedLayer } from '../../shared/wire/layers.ts';

/** What is to be handed over; without `tunnels`: all of them. */
export type HandOver = {
  readonly format: HandOverFormat;
  readonly layers: readonly ExportedLayer[];
  readonly tunnels?: ReadonlySet<string>;
};

/**
 * Reads what is asked for, with the defaults filled in and each layer once, in the order of the package. Refused:
 * `hand-over-format`, `hand-over-layer`, `hand-over-misfit` where the format cannot hold a layer, `hand-over-empty`.
 */
export function readHandOver(request: HandOverRequest): Result<HandOver> {
  const format = FORMAT_NAMES.find((name) => name === (request.format ?? 'zip'));
  if (format === undefined) {
    return refused(
      refusal('hand-over-format', { format: request.format ?? '', known: FORMAT_NAMES.join(', ') }),
    );
  }
  const layers = readLayers(format, request.layers);
  if (!layers.ok) return layers;
  const { tunnels } = request;
  if (tunnels?.length === 0) return refused(refusal('hand-over-empty', { reason: 'no tunnel is chosen' }));
  return done({
    format,
    layers: layers.value,
    ...(tunnels === undefined ? {} : { tunnels: new Set(tunnels) }),
  });
}

function readLayers(
  format: HandOverFormat,
  asked: readonly string[] | undefined,
): Result<readonly ExportedLayer[]> {
  const held: readonly ExportedLayer[] = HAND_OVER_FORMATS[format].layers;
  if (asked === undefined) return done(held);
  if (asked.length === 0) return refused(refusal('hand-over-empty', { reason: 'no layer is chosen' }));
  for (const layer of asked) {
    if (!EXPORTED_LAYERS.some((known) => known === layer)) {
      return refused(refusal('hand-over-layer', { layer, known: EXPORTED_LAYERS.join(', ') }));
    }
    if (!held.some((known) => known === layer)) {
      return refused(refusal('hand-over-misfit', { format, layer, known: held.join(', ') }));
    }
  }
  return done(held.filter((layer) => asked.includes(layer)));
}
