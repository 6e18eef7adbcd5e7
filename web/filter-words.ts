import type { Range, RangeId } from './survey/table-view.ts';
import { formatNumber } from './ui/format.ts';

const RANGES: Readonly<Record<RangeId, { readonly name: string; readonly unit: string }>> = {
  exitCount: { name: 'Exits underground', unit: '' },
  decisionCount: { name: 'Decision points', unit: '' },
  lengthM: { name: 'Length', unit: 'm' },
  outageS: { name: 'Outage', unit: 's' },
  misguidedPerDay: { name: 'Misguided a day', unit: '' },
  rank: { name: 'Rank', unit: '' },
};

/** What the filters of the table say. */
export const filterWords = {
  action: 'Filters',
  actionWith: (count: number) => `Filters (${count})`,
  ranges: RANGES,
  from: (name: string, unit: string) => `${name} from${unit === '' ? '' : `, ${unit}`}`,
  to: (name: string, unit: string) => `${name} to${unit === '' ? '' : `, ${unit}`}`,
  between: 'to',
  crossed: 'From is above to.',
  classes: 'Road class',
  assumed: 'What is assumed',
  active: 'Filters in use',
  remove: (filter: string) => `Remove the filter ${filter}`,
  clearAll: 'Clear all',
  text: (text: string) => `“${text}”`,
  range: (id: RangeId, { min, max }: Range) => {
    const { name, unit } = RANGES[id];
    const value = (of: number) =>
      `${formatNumber(of, Number.isInteger(of) ? 0 : 2)}${unit === '' ? '' : ` ${unit}`}`;
    if (min === undefined) return `${name} ≤ ${value(max ?? 0)}`;
    if (max === undefined) return `${name} ≥ ${value(min)}`;
    return min === max ? `${name} ${value(min)}` : `${name} ${value(min)} to ${value(max)}`;
  },
  roadClass: (name: string) => name.replaceAll('_', ' '),
  assumedList: (names: readonly string[]) => `Assumed: ${names.join(', ')}`,
  none: 'No tunnel passes all filters.',
  noneOne: (filter: string) => `No tunnel passes the filter ${filter}.`,
  without: (filter: string, count: number) =>
    `Without ${filter}: ${formatNumber(count)} ${count === 1 ? 'tunnel' : 'tunnels'}`,
};
