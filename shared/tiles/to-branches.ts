import type { Feature, Point } from 'geojson';

/** Branches of one decision are drawn at least this far apart, or a slip road's arrow would lie on the main one's. */
const LEAST_TURN_DEG = 32;

/** One way to leave a decision, as the `decisions` features carry it. */
export type DrawnBranch = {
  readonly bearingDeg: number;
  readonly exit: boolean;
  readonly underground: boolean;
  readonly label?: string;
};

/**
 * One point for each way to leave the decisions of a tunnel, at its node: `drawnDeg` is the arrow's direction, degrees
 * from north, and `octant` the compass direction where its sign stands.
 */
export function toBranches(
  decisions: readonly Feature<Point>[],
  tunnelName: string | undefined,
): Feature<Point>[] {
  return decisions.flatMap(({ geometry, properties }) => {
    const branches = (properties?.branches ?? []) as readonly DrawnBranch[];
    const drawn = spread(branches);
    return branches.map((branch, i): Feature<Point> => {
      const drawnDeg = drawn[i] as number;
      return {
        type: 'Feature',
        geometry,
        properties: {
          complex: properties?.complex,
          kind: properties?.kind,
          restricted: properties?.restricted,
          where: properties?.where,
          exit: branch.exit,
          underground: branch.underground,
          ...signOf(branch, tunnelName),
          drawnDeg,
          octant: OCTANTS[Math.round(drawnDeg / 45) % 8],
        },
      };
    });
  });
}

/** What the sign says, one destination a line. That the road goes on in the same tunnel needs no sign. */
function signOf({ label, exit }: DrawnBranch, tunnelName: string | undefined): { label?: string } {
  if (label === undefined || (!exit && label === tunnelName)) return {};
  return { label: label.replaceAll(' · ', '\n') };
}

const OCTANTS = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'] as const;

/** Directions for the arrows: the main carriageway keeps its own, the others turn away from it where they must. */
function spread(branches: readonly DrawnBranch[]): number[] {
  const main = branches.find((branch) => !branch.exit) ?? branches[0];
  if (main === undefined) return [];
  const turns = branches.map((branch) => (branch === main ? 0 : turnOf(branch.bearingDeg - main.bearingDeg)));
  const drawn = [...turns];
  for (const side of [1, -1]) {
    let nearestDeg = 0;
    // Outwards from the main carriageway, each at least one step from the one before.
    const outwards = turns
      .map((turn, i) => ({ turn: turn * side, i }))
      .filter(({ turn, i }) => branches[i] !== main && (side === 1 ? turn >= 0 : turn > 0))
      .sort((a, b) => a.turn - b.turn);
    for (const { turn, i } of outwards) {
      nearestDeg = Math.max(turn, nearestDeg + LEAST_TURN_DEG);
      drawn[i] = nearestDeg * side;
    }
  }
  // Bearings come to the tenth of a degree.
  return drawn.map((turn) => Math.round(((main.bearingDeg + turn + 360) % 360) * 10) / 10);
}

/** To −180 … 180, positive to the right. */
function turnOf(deg: number): number {
  return ((((deg + 180) % 360) + 360) % 360) - 180;
}
