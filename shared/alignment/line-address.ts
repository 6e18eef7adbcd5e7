import type { LinkId } from '../network/network.ts';

/** A place on a link: never a bare number. `chainageM` runs from 0 to the link's length. */
export type LineAddress = { readonly linkId: LinkId; readonly chainageM: number };
