import type { City } from '../city/city.ts';
import { toPoint } from '../city/city.ts';
import { spline } from '../line/curves.ts';
import { keepShape } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';

const GROUP = 902;

const PLACES: readonly (readonly [kind: string, name: string, at: XY])[] = [
  ['city', 'Aldermouth', [-480, -480]],
  ['quarter', 'The Rounds', [-1420, -230]],
  ['quarter', 'Fairlead', [1150, 180]],
  ['quarter', 'Market Quay', [560, -1000]],
  ['suburb', 'Lockside', [-1000, -1700]],
  ['suburb', 'Millgate', [-1250, 680]],
  ['suburb', 'Kell Lawn', [-2180, 760]],
  ['suburb', 'Kellfoot', [-3150, -1450]],
  ['suburb', 'Holmside', [-1500, -3550]],
  ['suburb', 'Saltern', [2000, -2850]],
  ['suburb', 'Marshgate', [3200, -3100]],
  ['suburb', 'Sidelight', [2980, 700]],
  ['suburb', 'Thornholt', [4120, -420]],
  ['suburb', 'Wrenlow', [1300, 3560]],
  ['suburb', 'Eastbank', [-430, 2230]],
  ['suburb', 'Undermoor', [-5550, -560]],
  ['suburb', 'Corvesand', [-4620, -2300]],
  ['suburb', 'Moorgate', [-3500, 1250]],
  ['village', 'Hallowick', [-3700, 4720]],
  ['village', 'Osterness', [-1650, 4680]],
  ['village', 'Fulmar Point', [1120, 4760]],
  ['village', 'Pellmere', [2950, 4320]],
  ['village', 'Skerrow', [5800, 3000]],
  ['village', 'Gannet Bay', [6060, 180]],
];

/** Marks the city's places, lighthouses and ferries. */
export function layPlaces(city: City): void {
  for (const [place, name, at] of PLACES) {
    city.mark(at, { place, name, ...(place === 'city' ? { population: '214000' } : {}) });
  }
  for (const [name, at] of lighthouses()) city.mark(at, { man_made: 'lighthouse', name });
  ferry(city, 'Pool Ferry', [
    [-500, -2300],
    [200, -2250],
    [1000, -2080],
    [1270, -2150],
  ]);
  ferry(city, 'Gull Holm Ferry', [
    [-430, -3400],
    [150, -4000],
    [700, -4700],
    [500, -5300],
    [-540, -5420],
  ]);
}

function lighthouses(): [string, XY][] {
  return [
    ['West Mole Light', [325, -4950]],
    ['East Mole Light', [1180, -4805]],
    ['Gull Holm Light', [-780, -5420]],
    ['Gannet Light', [6900, -1450]],
    ['Hallow Light', [-7000, 1150]],
  ];
}

function ferry(city: City, name: string, course: XY[]): void {
  const line = spline(course, 40);
  const points = keepShape(line, 3).map((i) => toPoint(line[i]!));
  city.draw(GROUP, points, { route: 'ferry', name, motor_vehicle: 'no' });
}
