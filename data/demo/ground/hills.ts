import { blob } from '../line/blob.ts';
import type { XY } from '../line/xy.ts';

export type Green = {
  readonly name: string;
  readonly ring: readonly XY[];
  readonly tags: Readonly<Record<string, string>>;
  /** Summit, for hills. */
  readonly peak?: { readonly at: XY; readonly name: string; readonly ele: number };
};

const WOOD = { natural: 'wood' };
const HEATH = { natural: 'heath' };
const PARK = { leisure: 'park' };

/** The hills that the tunnels go under, and the parks. */
export const GREENS: readonly Green[] = [
  hill('Kell Hill', [-2880, -110], 640, 640, 15, [0.06, -0.07, 0.05], WOOD, 148),
  hill('Wrenlow Ridge', [1800, 2560], 2050, 430, 7, [0.04, 0.07, -0.05], WOOD, 212),
  hill('Hallow Moor', [-4850, 2150], 1180, 1280, -10, [0.05, -0.05, 0.05], HEATH, 371),
  hill('Gannet Head', [5900, -1480], 690, 640, 30, [0.06, -0.04, 0.04], HEATH, 176),
  hill('Tolland Down', [5230, 2120], 640, 620, 20, [-0.06, 0.05, 0.03], WOOD, 189),
  hill('Corve Hill', [-3480, -2640], 470, 400, -35, [0.05, 0.05, -0.03], WOOD, 121),
  hill('Fold Hill', [-1350, 3760], 760, 560, -8, [0.05, -0.06, 0.04], WOOD, 164),
  hill('Cold Down', [5150, -90], 420, 330, 0, [0.06, 0.05, -0.04], WOOD, 132),
  wood('Alder Wood', [-3820, 3150], 330, 210, 40),
  wood('Skerrow Wood', [4560, 2960], 420, 260, -25),
  wood('Marsh Plantation', [4560, -3380], 300, 260, 20),
  wood('Strand Wood', [-5560, -1560], 260, 330, 10),
  wood('Osterness Wood', [-2450, 4480], 260, 120, 5),
  park('Castle Mound', [-1760, 330], 165, 150, 0, [0.04, 0.05]),
  park('Observatory Hill', [1480, 480], 230, 190, 12, [0.05, -0.04]),
  park('Meridian Square', [690, -420], 105, 80, 10, []),
  park('Vernal Gardens', [120, 420], 135, 100, 8, [0.03]),
  park('Solstice Park', [1830, -960], 190, 125, 8, [0.04]),
  park('Almanac Square', [1620, 900], 105, 62, 8, []),
  park('Marshgate Park', [3050, -2750], 170, 130, 40, [0.07]),
  park('Sidelight Rec', [2990, -1150], 60, 150, 0, [0.05]),
  park('Basin Gardens', [-890, -1180], 110, 230, 12, [0.04]),
  park('Thornholt Park', [3615, 830], 240, 330, 0, [0.06, 0.04]),
  park('Lammas Field', [4330, 1020], 260, 190, 30, [0.05]),
  park('Wrenlow Green', [700, 3560], 210, 150, 0, [0.06]),
  park('Pilots Common', [-1800, -3350], 300, 210, -20, [0.07]),
  park('Undermoor Rec', [-5560, 350], 180, 130, 0, [0.05]),
  park('River Meadows', [-1720, 1130], 260, 120, -35, [0.08]),
];

function hill(
  name: string,
  centre: XY,
  east: number,
  north: number,
  tilt: number,
  waves: number[],
  tags: Green['tags'],
  ele: number,
): Green {
  return { name, ring: blob(centre, east, north, tilt, waves, 44), tags, peak: { at: centre, name, ele } };
}

function park(name: string, centre: XY, east: number, north: number, tilt: number, waves: number[]): Green {
  return { name, ring: blob(centre, east, north, tilt, waves, 20), tags: PARK };
}

function wood(name: string, centre: XY, east: number, north: number, tilt: number): Green {
  return { name, ring: blob(centre, east, north, tilt, [0.09, -0.07, 0.06], 28), tags: WOOD };
}
