import { done, type Result } from '../outcome/result.ts';
import { buildLinkBudget, type LinkInput, LONGEST_M, SHORTEST_M } from './link-budget.ts';

/**
 * How far a beacon is heard, metres, straight from antenna to antenna: where the level meets the receiver's
 * sensitivity. 0 where it is not even heard at 0.5 m; 2000 m, the end of the model, where it is heard farther.
 * Refuses what the link budget refuses.
 */
export function findRange(input: LinkInput): Result<number> {
  const nearest = buildLinkBudget(input, SHORTEST_M);
  if (!nearest.ok) return nearest;
  if (nearest.value.leftDb < 0) return done(0);
  if (isHeard(input, LONGEST_M)) return done(LONGEST_M);
  // The level falls with the distance all the way, so that halving finds the one place; to below a millimetre.
  let [nearM, farM] = [SHORTEST_M, LONGEST_M];
  while (farM - nearM > 1e-4) {
    const middleM = (nearM + farM) / 2;
    if (isHeard(input, middleM)) nearM = middleM;
    else farM = middleM;
  }
  return done(nearM);
}

function isHeard(input: LinkInput, distanceM: number): boolean {
  const budget = buildLinkBudget(input, distanceM);
  return budget.ok && budget.value.leftDb >= 0;
}
