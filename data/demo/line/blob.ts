import type { XY } from './xy.ts';

/** An ellipse with an uneven rim, as hills and parks are drawn; the first position is not repeated. */
export function blob(
  centre: XY,
  radiusEastM: number,
  radiusNorthM: number,
  tiltDeg: number,
  waves: readonly number[],
  count = 40,
): XY[] {
  const tilt = (tiltDeg * Math.PI) / 180;
  return Array.from({ length: count }, (_, k): XY => {
    const a = (2 * Math.PI * k) / count;
    const rim = 1 + waves.reduce((sum, w, i) => sum + w * Math.sin((i + 2) * a + 200 * w), 0);
    const x = radiusEastM * rim * Math.cos(a);
    const y = radiusNorthM * rim * Math.sin(a);
    return [
      centre[0] + x * Math.cos(tilt) - y * Math.sin(tilt),
      centre[1] + x * Math.sin(tilt) + y * Math.cos(tilt),
    ];
  });
}
