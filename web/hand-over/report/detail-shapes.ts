/** What stands along a bore, about its middle: a diamond, a bar, a triangle. */
export const DETAIL_SHAPES = {
  beacon: 'M0 -3 L3 0 L0 3 L-3 0 Z',
  portal: 'M-3 -3 H3 V3 H-3 Z',
  decision: 'M0 -4 L4 3 H-4 Z',
} as const;
