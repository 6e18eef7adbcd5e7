import { blob } from '../line/blob.ts';
import type { Random } from '../line/random.ts';
import type { XY } from '../line/xy.ts';
import { crescents, grid, type Pattern, walledTown } from './patterns.ts';
import type { Theme } from './street-names.ts';

export type District = {
  readonly group: number;
  readonly ring: readonly XY[];
  readonly theme: Theme;
  readonly landuse?: string;
  readonly highway?: Partial<Record<Pattern['rank'], string>>;
  readonly pattern: (random: Random) => Pattern[];
};

const ROUNDS: XY = [-1420, -230];
const KELL: XY = [-2880, -110];

/** The city's quarters in the order in which they grew. */
export const DISTRICTS: readonly District[] = [
  {
    group: 200,
    theme: 'old',
    ring: blob(ROUNDS, 640, 640, 0, []),
    landuse: 'retail',
    highway: { close: 'living_street', avenue: 'tertiary' },
    pattern: (random) => walledTown(ROUNDS, 560, random),
  },
  {
    group: 201,
    theme: 'port',
    ring: [
      [-960, -640],
      [-560, -800],
      [-560, -1850],
      [-500, -2480],
      [-1900, -2500],
      [-2000, -760],
      [-1420, -830],
    ],
    pattern: (random) =>
      grid(
        [-1150, -1600],
        { east: 1100, north: 1000, angleDeg: 84, alongM: 190, acrossM: 105, bendM: 10, skip: 0.06 },
        random,
      ),
  },
  {
    group: 202,
    theme: 'mill',
    ring: [
      [-2250, 1250],
      [-1900, 1000],
      [-1480, 350],
      [-840, 60],
      [-700, 200],
      [-700, 700],
      [-1000, 1050],
      [-1500, 1350],
      [-2050, 1500],
    ],
    pattern: (random) =>
      grid(
        [-1300, 750],
        { east: 1200, north: 800, angleDeg: -38, alongM: 170, acrossM: 95, bendM: 12, skip: 0.08 },
        random,
      ),
  },
  {
    group: 203,
    theme: 'leaf',
    ring: [
      [-2300, 60],
      [-1990, 20],
      [-1900, 320],
      [-1600, 560],
      [-2200, 1290],
      [-2560, 1280],
      [-2830, 920],
      [-2700, 600],
      [-2300, 400],
    ],
    pattern: (random) =>
      crescents(
        KELL,
        { fromM: 760, toM: 1500, apartM: 105, fromDeg: 5, toDeg: 95, blockM: 190, bendM: 12 },
        random,
      ),
  },
  {
    group: 204,
    theme: 'leaf',
    ring: [
      [-4480, -420],
      [-3650, -120],
      [-3480, -400],
      [-2900, -780],
      [-2300, -620],
      [-2000, -600],
      [-2000, -2500],
      [-2700, -2950],
      [-3050, -2450],
      [-3900, -1800],
      [-4480, -1000],
    ],
    pattern: (random) =>
      crescents(
        KELL,
        { fromM: 720, toM: 2750, apartM: 125, fromDeg: 165, toDeg: 312, blockM: 260, bendM: 16 },
        random,
      ),
  },
  {
    group: 205,
    theme: 'port',
    ring: [
      [-1900, -2500],
      [-500, -2500],
      [-500, -3980],
      [-800, -4250],
      [-1700, -4200],
      [-2500, -3900],
      [-2900, -3200],
    ],
    pattern: (random) =>
      grid(
        [-1300, -3400],
        { east: 1600, north: 1000, angleDeg: -6, alongM: 200, acrossM: 120, bendM: 14, skip: 0.1 },
        random,
      ),
  },
  {
    group: 206,
    theme: 'new',
    ring: [
      [-340, -600],
      [-60, -980],
      [520, -1380],
      [1420, -1780],
      [1900, -1900],
      [2450, -1350],
      [2600, -900],
      [2620, 900],
      [2180, 1500],
      [1900, 1600],
      [-60, 1620],
      [-420, 1000],
      [-340, 300],
    ],
    landuse: 'commercial',
    highway: { avenue: 'unclassified' },
    pattern: (random) =>
      grid(
        [1100, 100],
        { east: 1700, north: 1900, angleDeg: 8, alongM: 215, acrossM: 125, bendM: 5, skip: 0.02 },
        random,
      ),
  },
  {
    group: 207,
    theme: 'leaf',
    ring: [
      [-1250, 2980],
      [-250, 3040],
      [500, 3060],
      [1800, 3080],
      [3350, 3150],
      [3300, 3400],
      [2900, 3700],
      [1500, 4180],
      [0, 4210],
      [-700, 4000],
    ],
    pattern: (random) =>
      crescents(
        [1500, -400],
        { fromM: 3350, toM: 4800, apartM: 120, fromDeg: 50, toDeg: 130, blockM: 230, bendM: 22 },
        random,
      ),
  },
  {
    group: 208,
    theme: 'leaf',
    ring: [
      [3400, -1850],
      [3720, -2060],
      [4300, -1750],
      [4750, -900],
      [4650, 250],
      [4650, 1240],
      [4350, 1900],
      [3750, 2300],
      [3560, 1400],
      [3640, 300],
    ],
    pattern: (random) =>
      crescents(
        [4330, 1020],
        { fromM: 260, toM: 3000, apartM: 125, fromDeg: 120, toDeg: 330, blockM: 230, bendM: 18 },
        random,
      ),
  },
  {
    group: 209,
    theme: 'mill',
    ring: [
      [2660, -1150],
      [2750, -1980],
      [3150, -1980],
      [3380, -1000],
      [3560, 100],
      [3600, 1600],
      [3500, 2150],
      [2640, 1950],
      [2300, 1620],
      [2760, 900],
    ],
    pattern: (random) =>
      grid(
        [2980, 100],
        { east: 2000, north: 500, angleDeg: 88, alongM: 200, acrossM: 100, bendM: 9, skip: 0.08 },
        random,
      ),
  },
  {
    group: 210,
    theme: 'leaf',
    ring: [
      [-6300, -650],
      [-5900, -1300],
      [-4800, -1000],
      [-4720, 600],
      [-5300, 850],
      [-6250, 520],
    ],
    pattern: (random) =>
      crescents(
        [-5560, 350],
        { fromM: 190, toM: 1800, apartM: 120, fromDeg: 150, toDeg: 395, blockM: 220, bendM: 18 },
        random,
      ),
  },
  {
    group: 211,
    theme: 'shore',
    ring: [
      [-5500, -2150],
      [-4900, -1500],
      [-4420, -1750],
      [-4000, -2350],
      [-3900, -3300],
      [-4300, -3200],
      [-4950, -2600],
    ],
    pattern: (random) =>
      crescents(
        [-3480, -2640],
        { fromM: 560, toM: 2200, apartM: 125, fromDeg: 125, toDeg: 235, blockM: 220, bendM: 16 },
        random,
      ),
  },
  {
    group: 212,
    theme: 'mill',
    ring: [
      [-4420, 650],
      [-3300, 500],
      [-2860, 880],
      [-2560, 1250],
      [-2390, 1400],
      [-3010, 2110],
      [-3600, 2180],
      [-3800, 1750],
      [-4380, 1000],
    ],
    pattern: (random) =>
      crescents(
        [-4850, 2150],
        { fromM: 1320, toM: 2600, apartM: 130, fromDeg: -85, toDeg: 0, blockM: 240, bendM: 20 },
        random,
      ),
  },
  {
    group: 213,
    theme: 'mill',
    ring: [
      [-420, 1000],
      [-60, 1620],
      [950, 1750],
      [900, 2150],
      [-100, 2250],
      [-350, 2700],
      [-1250, 2900],
      [-1050, 1900],
      [-930, 1520],
    ],
    pattern: (random) =>
      grid(
        [-300, 2100],
        { east: 1400, north: 1000, angleDeg: -14, alongM: 180, acrossM: 110, bendM: 18, skip: 0.1 },
        random,
      ),
  },
  {
    group: 214,
    theme: 'leaf',
    ring: [
      [2420, -2000],
      [3400, -2030],
      [4200, -2350],
      [4150, -2900],
      [3900, -3500],
      [3420, -4050],
      [2900, -4380],
      [2390, -4330],
      [2340, -3080],
    ],
    pattern: (random) =>
      crescents(
        [2200, -3500],
        { fromM: 420, toM: 2400, apartM: 135, fromDeg: -70, toDeg: 95, blockM: 240, bendM: 20 },
        random,
      ),
  },
  {
    group: 221,
    theme: 'port',
    landuse: 'industrial',
    pattern: () => [],
    ring: [
      [1500, -2080],
      [2380, -2060],
      [2330, -2800],
      [2340, -3080],
      [2420, -3500],
      [2450, -3900],
      [2380, -4330],
      [2150, -4600],
      [1720, -4610],
      [1720, -4480],
      [2050, -4350],
      [2060, -3400],
      [1850, -3150],
      [1840, -2560],
      [1500, -2400],
    ],
  },
  village(215, 'shore', [5960, 150], 230, 400, 0),
  village(216, 'shore', [5800, 2960], 350, 260, 30),
  village(217, 'shore', [-3650, 4640], 430, 260, -10),
  village(218, 'shore', [-1620, 4620], 420, 190, 0),
  village(219, 'shore', [1150, 4720], 420, 210, 5),
  village(220, 'shore', [2950, 4230], 430, 230, -5),
];

function village(
  group: number,
  theme: Theme,
  centre: XY,
  east: number,
  north: number,
  tilt: number,
): District {
  return {
    group,
    theme,
    ring: blob(centre, east, north, tilt, [0.05, -0.05]),
    pattern: (random) =>
      grid(
        centre,
        { east, north, angleDeg: tilt + 12, alongM: 150, acrossM: 85, bendM: 22, skip: 0.12 },
        random,
      ),
  };
}
