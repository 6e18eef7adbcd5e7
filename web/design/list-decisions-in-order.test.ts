import { describe, expect, it } from 'vitest';
import type { Decision } from '../../shared/network/network.ts';
import { listDecisionsInOrder } from './list-decisions-in-order.ts';

const decision = (osmNode: number, distanceFromFixM: number, where: Decision['where']): Decision => ({
  osmNode,
  at: [0, 0],
  where,
  inside: where === 'underground',
  branches: [],
  distanceFromFixM,
  speedMps: 20,
});

describe('listDecisionsInOrder', () => {
  it('tells those underground as they are met, then those in the open air', () => {
    const given = {
      diverges: [decision(1, 900, 'underground'), decision(2, 200, 'underground')],
      decisionsAfterPortal: [decision(5, 400, 'after portal'), decision(4, 400, 'after portal')],
    };
    expect(listDecisionsInOrder(given).map(({ osmNode }) => osmNode)).toEqual([2, 1, 4, 5]);
    expect(given.diverges.map(({ osmNode }) => osmNode)).toEqual([1, 2]);
  });
});
