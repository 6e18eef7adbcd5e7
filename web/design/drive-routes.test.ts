import { describe, expect, it } from 'vitest';
import { buildDrive } from '../../shared/drive/build-drive.ts';
import { design, drawFork } from '../../shared/drive/drive.fixture.ts';
import { findTelling, nameRoutes } from './drive-routes.ts';

const network = drawFork();
const drive = buildDrive(network, design(network, []), { drives: 1 });

describe('the routes of a drive', () => {
  it('are told by road, heading, length and decisions', () => {
    const names = [...nameRoutes(drive, network).values()];
    expect(names).toHaveLength(2);
    for (const name of names) expect(name).toMatch(/, to the east: [12],\d{3} m, 1 decision( \(2\))?$/);
    expect(new Set(names).size).toBe(2);
  });

  it('begin with the one that has most decisions, then the longest', () => {
    const longest = drive.routes.toSorted((a, b) => b.lengthM - a.lengthM)[0];
    const shortest = drive.routes.toSorted((a, b) => a.lengthM - b.lengthM)[0];
    expect(longest?.lengthM).toBeGreaterThan(shortest?.lengthM ?? Number.POSITIVE_INFINITY);
    expect(findTelling(drive).routeId).toBe(longest?.routeId);
    const decisions = drive.decisions.filter(({ routeId }) => routeId === shortest?.routeId);
    expect(findTelling({ ...drive, decisions }).routeId).toBe(shortest?.routeId);
  });
});
