import { byText } from '../outcome/by-text.ts';
import type { Assignment, ProgrammeItem, ProgrammeModel } from './programme-model.ts';

/**
 * The simple order: by gain for each unit of money, each tunnel in the first year in which its cost and its nights
 * still fit. `budget` is in the model's units.
 */
export function planByRatio(model: ProgrammeModel, budget: number): Assignment {
  const left = Array.from({ length: model.years }, () => ({ money: budget, nights: model.nightsPerYear }));
  const assignment = model.items.map(() => 0);
  const order = model.items.map((item, i) => ({ item, i })).sort((a, b) => compare(a.item, b.item));
  for (const { item, i } of order) {
    const year = left.findIndex(({ money, nights }) => item.cost <= money && item.tunnel.nights <= nights);
    const room = left[year];
    if (room === undefined) continue;
    room.money -= item.cost;
    room.nights -= item.tunnel.nights;
    assignment[i] = year + 1;
  }
  return assignment;
}

/** The greater ratio first, compared without dividing, so that what costs nothing comes before everything. */
function compare(a: ProgrammeItem, b: ProgrammeItem): number {
  return b.gain * a.cost - a.gain * b.cost || b.gain - a.gain || byText(a.tunnel.id, b.tunnel.id);
}
