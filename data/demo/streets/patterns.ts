import type { Random } from '../line/random.ts';
import { polar, type XY } from '../line/xy.ts';
import { bent, straight } from './site.ts';

export type Pattern = {
  readonly line: XY[];
  /** Long streets are drawn first and get the better names. */
  readonly rank: 'avenue' | 'street' | 'close';
};

/** Two families of parallel streets, turned and bent. */
export function grid(
  centre: XY,
  plan: {
    east: number;
    north: number;
    angleDeg: number;
    alongM: number;
    acrossM: number;
    bendM: number;
    skip?: number;
  },
  random: Random,
): Pattern[] {
  const a = (plan.angleDeg * Math.PI) / 180;
  const place = (u: number, v: number): XY =>
    bent(
      [centre[0] + u * Math.cos(a) - v * Math.sin(a), centre[1] + u * Math.sin(a) + v * Math.cos(a)],
      plan.bendM,
      centre[0] / 700,
    );
  const out: Pattern[] = [];
  const rows = Math.floor(plan.north / plan.acrossM);
  const columns = Math.floor(plan.east / plan.alongM);
  for (let i = -rows; i <= rows; i++) {
    const v = i * plan.acrossM + (random() - 0.5) * 14;
    for (const line of broken(columns, plan.alongM, plan.skip ?? 0, random))
      out.push({
        line: straight(line[0], line[1]).map(([u]) => place(u, v)),
        rank: i % 4 === 0 ? 'avenue' : 'street',
      });
  }
  for (let i = -columns; i <= columns; i++) {
    const u = i * plan.alongM + (random() - 0.5) * 20;
    for (const line of broken(rows, plan.acrossM, plan.skip ?? 0, random))
      out.push({
        line: straight(line[0], line[1]).map(([v]) => place(u, v)),
        rank: i % 4 === 0 ? 'avenue' : 'street',
      });
  }
  return out;
}

/** Leaves out blocks here and there, so that a grid does not look ruled. */
function broken(count: number, blockM: number, skip: number, random: Random): [XY, XY][] {
  const out: [XY, XY][] = [];
  let start = -count;
  for (let i = -count; i < count; i++) {
    if (random() >= skip) continue;
    if (i > start)
      out.push([
        [start * blockM - 12, 0],
        [i * blockM + 12, 0],
      ]);
    start = i + 1;
  }
  if (count > start)
    out.push([
      [start * blockM - 12, 0],
      [count * blockM + 12, 0],
    ]);
  return out;
}

/** Streets that curve round a hill or a green, with connecting streets and closes between them. */
export function crescents(
  focus: XY,
  plan: {
    fromM: number;
    toM: number;
    apartM: number;
    fromDeg: number;
    toDeg: number;
    blockM: number;
    bendM: number;
  },
  random: Random,
): Pattern[] {
  const out: Pattern[] = [];
  const place = (r: number, deg: number): XY => bent(polar(focus, r, deg), plan.bendM, focus[1] / 600);
  let ring = 0;
  for (let r = plan.fromM; r <= plan.toM; r += plan.apartM * (0.85 + 0.3 * random())) {
    ring += 1;
    const stepDeg = ((plan.blockM / r) * 180) / Math.PI;
    let start = plan.fromDeg;
    for (let deg = plan.fromDeg; deg < plan.toDeg; deg += stepDeg * (0.7 + 0.6 * random())) {
      const roll = random();
      if (roll < 0.55)
        out.push({
          line: spoke(place, r, r + plan.apartM * (roll < 0.2 ? 2.05 : 1.02), deg),
          rank: 'street',
        });
      else if (roll < 0.75) out.push({ line: spoke(place, r, r + plan.apartM * 0.6, deg), rank: 'close' });
      if (roll > 0.9 && deg - start > stepDeg) {
        out.push({ line: arc(place, r, start, deg), rank: 'street' });
        start = deg + stepDeg * 0.8;
      }
    }
    if (plan.toDeg > start)
      out.push({ line: arc(place, r, start, plan.toDeg), rank: ring % 3 === 1 ? 'avenue' : 'street' });
  }
  return out;
}

function spoke(place: (r: number, deg: number) => XY, from: number, to: number, deg: number): XY[] {
  return straight([from, 0], [to, 0]).map(([r]) => place(r, deg));
}

function arc(place: (r: number, deg: number) => XY, r: number, from: number, to: number): XY[] {
  const n = Math.max(2, Math.round((((to - from) * Math.PI) / 180) * (r / 8)));
  return Array.from({ length: n + 1 }, (_, k) => place(r, from + ((to - from) * k) / n));
}

/** Uneven rings and radial lanes round a market place, as in a walled town. */
export function walledTown(centre: XY, radiusM: number, random: Random): Pattern[] {
  const out: Pattern[] = [];
  const place = (r: number, deg: number): XY => {
    const a = (deg * Math.PI) / 180;
    const rim = 1 + 0.05 * Math.sin(3 * a + r / 120) + 0.04 * Math.sin(5 * a - r / 90);
    return polar(centre, r * rim, deg + 9 * Math.sin(r / 170));
  };
  [0.15, 0.32, 0.5, 0.67, 0.84].forEach((share, i) => {
    const gap = i === 0 ? 0 : 25 + 60 * random();
    const from = 360 * random();
    out.push({
      line: arc(place, share * radiusM, from, from + 360 - gap),
      rank: i === 2 ? 'avenue' : 'street',
    });
  });
  for (let k = 0; k < 11; k++) {
    const deg = (360 * k) / 11 + 14 * (random() - 0.5);
    out.push({
      line: spoke(place, 0.15 * radiusM, radiusM * 1.12, deg),
      rank: k % 3 === 0 ? 'avenue' : 'street',
    });
  }
  for (let k = 0; k < 30; k++) {
    const ring = [0.32, 0.5, 0.67, 0.84][Math.floor(4 * random())]!;
    const deg = 360 * random();
    out.push({ line: spoke(place, ring * radiusM, (ring + 0.175) * radiusM, deg), rank: 'close' });
  }
  return out;
}
