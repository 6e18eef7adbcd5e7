import { type City, toPoint } from '../city/city.ts';
import { spline } from '../line/curves.ts';
import { LineIndex } from '../line/line-index.ts';
import { keepShape } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';
import { drawCoast } from './coast.ts';
import { GREENS } from './hills.ts';
import { Region } from './region.ts';
import { drawRiver } from './river.ts';

const GROUP = 900;

export type Ground = {
  readonly isLand: (p: XY) => boolean;
  readonly isGreen: (p: XY) => boolean;
  /** Whether a shore or river bank is nearer than `reachM`. */
  readonly isNearWater: (p: XY, reachM: number) => boolean;
};

/** Draws sea, river, basin, hills and parks, and says what is where. */
export function drawGround(city: City): Ground {
  const coast = drawCoast();
  const river = drawRiver(coast.lock);
  const shore = coast.island.map(toPoint);
  city.draw(GROUP, [...shore, shore[0]!], { natural: 'coastline' });
  for (const ring of coast.islets) city.drawArea(GROUP, ring, { natural: 'coastline', place: 'islet' });
  drawWater(city, coast.island, coast.lock, shore, river.water, river.middle);
  drawStreams(city);
  for (const green of GREENS) {
    city.drawArea(GROUP, green.ring, { ...green.tags, name: green.name });
    if (green.peak !== undefined)
      city.mark(green.peak.at, { natural: 'peak', name: green.peak.name, ele: String(green.peak.ele) });
  }
  const banks = new LineIndex();
  banks.add([...coast.island, coast.island[0]!]);
  banks.add([...river.water, river.water[0]!]);
  const land = new Region(coast.island);
  const water = new Region(river.water);
  const greens = GREENS.map((g) => new Region(g.ring));
  return {
    isLand: (p) => land.holds(p) && !water.holds(p),
    isGreen: (p) => greens.some((g) => g.holds(p)),
    isNearWater: (p, reachM) => banks.clearanceM(p, reachM) < reachM,
  };
}

function drawWater(
  city: City,
  island: readonly XY[],
  lock: readonly [XY, XY],
  shore: ReturnType<typeof toPoint>[],
  water: readonly XY[],
  middle: readonly XY[],
): void {
  const west = shore[island.indexOf(lock[0])]!;
  const east = shore[island.indexOf(lock[1])]!;
  const points = [west, ...water.slice(1, -1).map(toPoint), east, west];
  city.draw(GROUP, points, { natural: 'water', water: 'river', name: 'Alder' });
  city.draw(GROUP, middle.map(toPoint), { waterway: 'river', name: 'Alder' });
  city.obstacles.push({ line: [...water, water[0]!], halfWidthM: 0, water: true });
}

function drawStreams(city: City): void {
  const streams: [string, XY[]][] = [
    [
      'Kell Brook',
      [
        [-3060, -640],
        [-2950, -960],
        [-2600, -1350],
        [-2150, -1620],
        [-1450, -1700],
        [-900, -1830],
        [-530, -1960],
      ],
    ],
    [
      'Hallow Beck',
      [
        [-5300, 1650],
        [-5550, 1150],
        [-5950, 900],
        [-6400, 1020],
        [-6790, 900],
      ],
    ],
    [
      'Fold Water',
      [
        [-900, 3900],
        [-600, 4250],
        [-480, 4600],
        [-520, 4790],
      ],
    ],
  ];
  for (const [name, course] of streams) {
    const line = spline(course, 25);
    const points = keepShape(line, 2).map((i) => toPoint(line[i]!));
    city.draw(GROUP, points, { waterway: 'stream', name });
  }
}
