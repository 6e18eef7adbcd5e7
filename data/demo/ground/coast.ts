import { spline } from '../line/curves.ts';
import { chainagesM, keepShape, offsetLine } from '../line/polyline.ts';
import { makeRandom, type Random } from '../line/random.ts';
import type { XY } from '../line/xy.ts';

/** The island's shore from the harbour mouth's eastern head, counter-clockwise (land on the left). */
const OUTER_SHORE: readonly XY[] = [
  [1800, -4780],
  [2060, -5180],
  [2430, -5420],
  [2700, -5090],
  [3250, -4830],
  [3620, -4380],
  [4020, -4050],
  [4480, -4180],
  [4860, -4020],
  [5090, -3480],
  [5420, -3180],
  [5560, -2600],
  [6050, -2350],
  [6540, -2060],
  [7020, -1640],
  [6930, -1180],
  [6640, -820],
  [6400, -560],
  [6170, -330],
  [6230, 60],
  [6480, 330],
  [6420, 720],
  [6640, 1120],
  [6820, 1660],
  [7060, 2080],
  [6700, 2290],
  [6340, 2560],
  [6420, 3050],
  [6060, 3420],
  [5560, 3560],
  [5180, 3420],
  [4930, 3770],
  [4980, 4240],
  [4520, 4560],
  [4150, 4420],
  [3880, 4780],
  [3560, 4980],
  [3290, 4560],
  [2850, 4520],
  [2440, 4740],
  [2020, 5160],
  [1560, 5090],
  [1090, 4960],
  [760, 5380],
  [380, 5520],
  [60, 5150],
  [-240, 5060],
  [-480, 4700],
  [-620, 4560],
  [-830, 4640],
  [-1060, 4760],
  [-1560, 4830],
  [-1980, 5010],
  [-2340, 4800],
  [-2640, 5010],
  [-2960, 5400],
  [-3300, 5420],
  [-3560, 5060],
  [-3980, 4960],
  [-4330, 4650],
  [-4760, 4700],
  [-5120, 4420],
  [-5560, 4480],
  [-6060, 4330],
  [-6420, 4420],
  [-6560, 4060],
  [-6180, 3760],
  [-6140, 3320],
  [-6480, 3080],
  [-6460, 2680],
  [-6610, 2250],
  [-6420, 1880],
  [-6700, 1560],
  [-7120, 1330],
  [-7060, 900],
  [-6660, 560],
  [-6420, 160],
  [-6330, -180],
  [-6640, -480],
  [-6820, -860],
  [-6480, -1180],
  [-6120, -1480],
  [-6080, -1900],
  [-6420, -2280],
  [-6160, -2620],
  [-5540, -2520],
  [-5080, -2730],
  [-4850, -3130],
  [-5020, -3620],
  [-4620, -3880],
  [-4230, -3560],
  [-3960, -3740],
  [-3420, -3850],
  [-3100, -4120],
  [-2700, -4560],
  [-2260, -4640],
  [-2040, -4440],
  [-1600, -4560],
  [-1260, -4760],
  [-820, -5080],
  [-420, -4980],
];

/** The harbour's western shore, from the mouth and its mole to the pierhead of the inner basin. */
const WEST_QUAYS: readonly XY[] = [
  [-270, -4850],
  [330, -4965],
  [335, -4935],
  [-250, -4815],
  [-240, -4600],
  [-300, -4300],
  [-120, -4210],
  [-130, -4110],
  [-420, -4080],
  [-440, -3700],
  [-250, -3690],
  [-250, -3620],
  [-470, -3600],
  [-470, -3260],
  [-440, -2900],
  [-450, -2560],
  [-290, -2545],
  [-290, -2480],
  [-480, -2470],
  [-510, -2050],
  [-560, -1850],
];

/** The harbour's eastern shore, from the inner basin past the docks of the port to the mouth. */
const EAST_QUAYS: readonly XY[] = [
  [330, -1660],
  [560, -1700],
  [600, -1790],
  [680, -1770],
  [670, -1690],
  [960, -1740],
  [1180, -1960],
  [1330, -2260],
  [1380, -2560],
  [1470, -2620],
  [1800, -2590],
  [1812, -2680],
  [1470, -2735],
  [1500, -2860],
  [1580, -3230],
  [1690, -3250],
  [2020, -3360],
  [1990, -3450],
  [1660, -3345],
  [1600, -3400],
  [1620, -3600],
  [2010, -3720],
  [1985, -3810],
  [1600, -3695],
  [1540, -3760],
  [1590, -4050],
  [2000, -4130],
  [1985, -4225],
  [1590, -4150],
  [1640, -4500],
  [1690, -4660],
  [1180, -4790],
  [1172, -4820],
  [1700, -4700],
];

export type Coast = {
  /** The main island's ring, not closed, counter-clockwise. */
  readonly island: readonly XY[];
  /** From the western to the eastern pierhead, where the basin meets the sea; part of the ring. */
  readonly lock: readonly [west: XY, east: XY];
  readonly islets: readonly (readonly XY[])[];
};

/** Draws the shore: rocky outside, built quays inside the harbour. */
export function drawCoast(): Coast {
  const random = makeRandom(4601);
  const outer = roughen(spline(OUTER_SHORE, 22), random);
  const island = [...outer, ...WEST_QUAYS, ...EAST_QUAYS];
  const islets = [
    islet([-760, -5420], 210, 120, random),
    islet([2900, -5350], 130, 90, random),
    islet([-6900, 3450], 260, 190, random),
    islet([7050, 650], 150, 230, random),
    islet([5750, 4250], 330, 180, random),
  ];
  return { island, lock: [WEST_QUAYS.at(-1)!, EAST_QUAYS[0]!], islets };
}

/** Adds coves and points: four wave lengths of seeded noise across the shore. */
function roughen(line: readonly XY[], random: Random): XY[] {
  const at = chainagesM(line);
  const waves = [700, 320, 150, 75].map((lengthM, i) => ({
    lengthM,
    sizeM: [30, 32, 24, 13][i]!,
    knots: knots(random),
  }));
  const end = at.at(-1)!;
  const rough = offsetLine(line, (s) => {
    const calm = Math.min(1, s / 250, (end - s) / 250);
    return waves.reduce((sum, w) => sum + calm * w.sizeM * noise(w.knots, s / w.lengthM), 0);
  });
  return keepShape(rough, 4).map((i) => rough[i]!);
}

function knots(random: Random): number[] {
  return Array.from({ length: 800 }, () => random() * 2 - 1);
}

function noise(values: readonly number[], x: number): number {
  const i = Math.floor(x);
  const t = x - i;
  const s = t * t * (3 - 2 * t);
  return values[i]! * (1 - s) + values[i + 1]! * s;
}

function islet(centre: XY, east: number, north: number, random: Random): XY[] {
  return Array.from({ length: 16 }, (_, k): XY => {
    const a = (2 * Math.PI * k) / 16;
    const rim = 0.75 + 0.35 * random();
    return [centre[0] + east * rim * Math.cos(a), centre[1] + north * rim * Math.sin(a)];
  });
}
