import type { City } from '../city/city.ts';
import { type Dual, layDual } from '../city/lay-dual.ts';
import type { Stretch } from '../city/lay-road.ts';
import { type Corner, setOut } from '../line/curves.ts';
import { chainagesM } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';
import { RING_TUNNELS } from '../tunnels/ring-tunnels.ts';

/** The ring's middle line, clockwise from Thornholt: motorway in the south, trunk road in the north. */
const CORNERS: readonly Corner[] = [
  [3640, 1500],
  [3590, 250, 2600],
  [3330, -1500, 1800],
  [2640, -3000, 640],
  [480, -3150, 1900],
  [-1250, -3000, 1500],
  [-2550, -3100, 900],
  [-3950, -2310, 1000],
  [-4640, -1250, 1100],
  [-4720, 350, 2400],
  [-4530, 1250, 1500],
  [-4740, 2250, 900],
  [-4150, 3450, 800],
  [-3000, 4070, 900],
  [-1450, 3780, 1000],
  [-320, 4220, 900],
  [850, 4060, 1500],
  [2150, 4180, 1200],
  [3180, 3680, 800],
  [3690, 2760, 650],
  [3640, 1500],
];

const MOTORWAY = { highway: 'motorway', ref: 'M7', name: 'Harbour Motorway', lanes: '2', maxspeed: '100' };
const TRUNK = {
  highway: 'trunk',
  ref: 'A12',
  name: 'Northern Orbital',
  oneway: 'yes',
  lanes: '2',
  maxspeed: '90',
  dual_carriageway: 'yes',
};

export type Ring = {
  readonly dual: Dual;
  readonly hallow: { from: number; to: number };
  readonly harbour: { from: number; to: number };
  /** Where the westbound exit leaves, 150 m after the harbour crossing's portal. */
  readonly harbourExitAt: number;
};

/** Lays motorway M7 and trunk road A12 with the tunnels on them. */
export function layRing(city: City): Ring {
  const middle = setOut(CORNERS);
  const at = chainagesM(middle);
  const nearest = (p: XY) => nearestM(middle, at, p);
  const trunkFrom = nearest([-4600, 860]);
  const trunkTo = nearest([3670, 2250]);
  const tunnels = RING_TUNNELS.map((t) => ({ ...t, from: nearest(t.near) - t.lengthM / 2 }));
  const stretches: Stretch[] = [{ from: trunkFrom, to: trunkTo, tags: TRUNK }];
  const forth: Stretch[] = [];
  const back: Stretch[] = [];
  for (const t of tunnels) {
    const shift = (s: Stretch): Stretch => ({ ...s, from: t.from + s.from, to: t.from + s.to });
    forth.push(...t.forth.map(shift));
    back.push(...t.back.map(shift));
  }
  const halfGapM = (s: number) => {
    let half = 9;
    for (const t of tunnels) {
      const out = Math.max(0, t.from - 200 - s, s - (t.from + t.lengthM + 200));
      half = Math.max(half, 9 + (t.halfGapM - 9) * Math.max(0, 1 - out / 350));
    }
    return half;
  };
  const dual = layDual(city, middle, {
    group: 100,
    tags: MOTORWAY,
    halfGapM,
    stretches,
    forthOnly: forth,
    backOnly: back,
    closed: true,
  });
  const span = (i: number) => ({ from: tunnels[i]!.from, to: tunnels[i]!.from + tunnels[i]!.lengthM });
  return { dual, harbour: span(1), hallow: span(3), harbourExitAt: span(1).to + 150 };
}

function nearestM(line: readonly XY[], at: readonly number[], p: XY): number {
  let best = 0;
  line.forEach((q, i) => {
    if (Math.hypot(q[0] - p[0], q[1] - p[1]) < Math.hypot(line[best]![0] - p[0], line[best]![1] - p[1]))
      best = i;
  });
  return at[best]!;
}
