import { Clipper64, ClipType, FillRule, type Path64, type PolyPath64, PolyTree64 } from 'clipper2-ts';
import type { MultiPolygon, Position } from 'geojson';
import { round7 } from '../geodesy/lon-lat.ts';

/** The exports' grid: 7 decimals of a degree. */
const GRID = 1e7;

/**
 * Unites closed rings (degrees) to a valid MultiPolygon: parts that do not overlap, outer rings counter-clockwise,
 * holes clockwise (RFC 7946 §3.1.6). Works on whole numbers of the 7-decimal grid, because clipping in floating
 * degrees fails on coordinates that nearly touch.
 */
export function uniteRings(rings: readonly Position[][]): MultiPolygon {
  const origin = rings[0]?.[0] ?? [0, 0];
  const clipper = new Clipper64();
  clipper.addPaths(
    rings.map((ring) => toPath(ring, origin)),
    0,
    false,
  );
  const tree = new PolyTree64();
  clipper.execute(ClipType.Union, FillRule.NonZero, tree);
  const coordinates: Position[][][] = [];
  collect(tree, origin, coordinates);
  return { type: 'MultiPolygon', coordinates };
}

/** Outer rings are the tree's first level, their holes the second, islands in holes the third and so on. */
function collect(parent: PolyPath64, origin: Position, into: Position[][][]): void {
  for (const outer of childrenOf(parent)) {
    const holes = childrenOf(outer);
    into.push([toRing(outer, origin, false), ...holes.map((hole) => toRing(hole, origin, true))]);
    for (const hole of holes) collect(hole, origin, into);
  }
}

function childrenOf(parent: PolyPath64): readonly PolyPath64[] {
  return Array.from({ length: parent.count }, (_, i) => parent.child(i) as PolyPath64);
}

function toPath(ring: readonly Position[], [lon0, lat0]: Position): Path64 {
  return ring.slice(0, -1).map(([lon, lat]) => ({
    x: Math.round(((lon as number) - (lon0 as number)) * GRID),
    y: Math.round(((lat as number) - (lat0 as number)) * GRID),
  }));
}

function toRing(path: PolyPath64, [lon0, lat0]: Position, clockwise: boolean): Position[] {
  const points = (path.polygon ?? []).map(
    ({ x, y }): Position => [round7((lon0 as number) + x / GRID), round7((lat0 as number) + y / GRID)],
  );
  const turned = signedArea(points) < 0 === clockwise ? points : points.reverse();
  return [...turned, turned[0] as Position];
}

function signedArea(points: readonly Position[]): number {
  return points.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length] as [number, number];
    return sum + ((x as number) * nextY - nextX * (y as number));
  }, 0);
}
