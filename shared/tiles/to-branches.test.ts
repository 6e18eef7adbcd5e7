import type { Feature, Point } from 'geojson';
import { describe, expect, it } from 'vitest';
import { type DrawnBranch, toBranches } from './to-branches.ts';

function branchesOf(...branches: Partial<DrawnBranch>[]) {
  const decision: Feature<Point> = {
    type: 'Feature',
    id: 't1/n1',
    geometry: { type: 'Point', coordinates: [1, 2] },
    properties: { complex: 't1', kind: 'tunnel', restricted: false, where: 'underground', branches },
  };
  return toBranches([decision], 'Hill Tunnel');
}

const main = { bearingDeg: 84.3, exit: false, underground: true };

describe('toBranches', () => {
  it('puts a point for each branch at the node', () => {
    const [through, exit] = branchesOf(main, { bearingDeg: 150, exit: true, underground: false, label: '2' });
    expect(through?.geometry.coordinates).toEqual([1, 2]);
    expect(exit?.properties).toEqual({
      complex: 't1',
      kind: 'tunnel',
      restricted: false,
      where: 'underground',
      exit: true,
      underground: false,
      label: '2',
      drawnDeg: 150,
      octant: 'SE',
    });
  });

  it('turns a slip road that leaves at a flat angle away from the main carriageway, to its own side', () => {
    const right = branchesOf(main, { bearingDeg: 86.7, exit: true });
    expect(right.map(({ properties }) => properties?.drawnDeg)).toEqual([84.3, 116.3]);
    const left = branchesOf(main, { bearingDeg: 80, exit: true });
    expect(left[1]?.properties?.drawnDeg).toBe(52.3);
  });

  it('keeps two exits on one side apart, in their order', () => {
    const drawn = branchesOf(main, { bearingDeg: 95, exit: true }, { bearingDeg: 90, exit: true });
    expect(drawn[2]?.properties?.drawnDeg).toBe(116.3);
    expect(drawn[1]?.properties?.drawnDeg).toBe(148.3);
  });

  it('goes on across north', () => {
    const drawn = branchesOf({ ...main, bearingDeg: 350 }, { bearingDeg: 5, exit: true });
    expect(drawn[1]?.properties).toMatchObject({ drawnDeg: 22, octant: 'N' });
  });

  it('writes one destination a line, and leaves out that the road goes on in the same tunnel', () => {
    const [through, exit] = branchesOf(
      { ...main, label: 'Hill Tunnel' },
      { bearingDeg: 120, exit: true, label: '2 Docks · Port' },
    );
    expect(through?.properties).not.toHaveProperty('label');
    expect(exit?.properties?.label).toBe('2 Docks\nPort');
  });
});
