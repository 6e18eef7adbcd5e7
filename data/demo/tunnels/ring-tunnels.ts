import type { Stretch } from '../city/lay-road.ts';
import type { XY } from '../line/xy.ts';

export type RingTunnel = {
  /** The middle of the tunnel. */
  readonly near: XY;
  readonly lengthM: number;
  readonly halfGapM: number;
  /** Chainages from the tunnel's start, clockwise round the ring. */
  readonly forth: readonly Stretch[];
  readonly back: readonly Stretch[];
};

/** The tunnels on motorway M7 and trunk road A12. */
export const RING_TUNNELS: readonly RingTunnel[] = [
  deck(),
  harbourCrossing(),
  corveHill(),
  hallowChain(),
  foldPair(),
  ridgeEnd(),
];

/** Traffic in both directions under the harbour; the oneway tag stands only on the eastbound bore. */
function harbourCrossing(): RingTunnel {
  const lengthM = 2600;
  const tags = {
    tunnel: 'yes',
    layer: '-2',
    lanes: '2',
    maxspeed: '80',
    'tunnel:name': 'Aldermouth Harbour Tunnel',
    lit: 'yes',
  };
  const deep = { from: 780, to: 1840, tags: { layer: '-3', hazmat: 'no' } };
  return {
    near: [640, -3120],
    lengthM,
    halfGapM: 15,
    forth: [
      { from: 0, to: lengthM, tags, note: 'harbour crossing westbound, one-way only by highway=motorway' },
      deep,
    ],
    back: [
      {
        from: 0,
        to: lengthM,
        tags: { ...tags, oneway: 'yes' },
        note: 'harbour crossing eastbound, oneway=yes',
      },
      { from: 0, to: 1300, tags: { layer: '-3', 'change:lanes': 'no|no' } },
    ],
  };
}

/** A cut covered by Thornholt Park. */
function deck(): RingTunnel {
  const tags = { tunnel: 'yes', layer: '-1', maxspeed: '80', 'tunnel:name': 'Thornholt Deck', oneway: 'yes' };
  return {
    near: [3613, 830],
    lengthM: 420,
    halfGapM: 10,
    forth: [{ from: 0, to: 420, tags, note: 'Thornholt Deck southbound' }],
    back: [{ from: 0, to: 420, tags, note: 'Thornholt Deck northbound' }],
  };
}

function corveHill(): RingTunnel {
  const tags = {
    tunnel: 'yes',
    layer: '-1',
    maxspeed: '80',
    'tunnel:name': 'Corve Hill Tunnel',
    oneway: 'yes',
  };
  return {
    near: [-3450, -2590],
    lengthM: 740,
    halfGapM: 14,
    forth: [{ from: 0, to: 740, tags, note: 'Corve Hill Tunnel westbound' }],
    back: [{ from: 20, to: 715, tags, note: 'Corve Hill Tunnel eastbound' }],
  };
}

/** The long unnamed pair under Hallow Moor; lay-bys and exits are in `hallow-features.ts`. */
function hallowChain(): RingTunnel {
  const lengthM = 1800;
  const tags = { tunnel: 'yes', layer: '-1', name: '', maxspeed: '80' };
  return {
    near: [-4690, 2150],
    lengthM,
    halfGapM: 16,
    forth: [
      { from: 0, to: lengthM, tags, note: 'Hallow Moor bores (unnamed), northbound' },
      { from: 600, to: 1250, tags: { maxspeed: '80', shoulder: 'no' } },
      { from: 1250, to: lengthM, tags: { layer: '-2' } },
    ],
    back: [
      { from: 12, to: lengthM - 8, tags, note: 'Hallow Moor bores (unnamed), southbound' },
      { from: 900, to: lengthM - 8, tags: { layer: '-2' } },
    ],
  };
}

/** A short pair without name: only nearness, direction and overlap join the bores. */
function foldPair(): RingTunnel {
  const tags = { tunnel: 'yes', layer: '-1', name: '', ref: '', maxspeed: '80' };
  return {
    near: [-1440, 3880],
    lengthM: 430,
    halfGapM: 20,
    forth: [{ from: 0, to: 430, tags, note: 'unnamed twin pair under Fold Hill, eastbound' }],
    back: [{ from: 15, to: 450, tags, note: 'unnamed twin pair under Fold Hill, westbound' }],
  };
}

function ridgeEnd(): RingTunnel {
  const tags = { tunnel: 'yes', layer: '-1', maxspeed: '80', 'tunnel:name': 'Ridge End Tunnel' };
  return {
    near: [3650, 2720],
    lengthM: 520,
    halfGapM: 13,
    forth: [{ from: 0, to: 520, tags, note: 'Ridge End Tunnel southbound' }],
    back: [{ from: 0, to: 520, tags, note: 'Ridge End Tunnel northbound' }],
  };
}
