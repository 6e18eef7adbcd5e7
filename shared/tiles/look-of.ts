/** How a tunnel is drawn: by how far it is equipped, or as one of the kinds that are not designed. */
export type Look = 'planned' | 'partly' | 'equipped' | 'undesigned' | 'gallery' | 'restricted';

/** The look of a tunnel, by what its `complexes` feature says of it. */
export function lookOf(tunnel: {
  readonly restricted?: unknown;
  readonly kind?: unknown;
  readonly status?: unknown;
}): Look {
  if (tunnel.restricted === true) return 'restricted';
  if (tunnel.kind !== 'tunnel') return 'gallery';
  if (tunnel.status === 'equipped') return 'equipped';
  if (tunnel.status === 'partly equipped') return 'partly';
  return tunnel.status === 'none' ? 'undesigned' : 'planned';
}
