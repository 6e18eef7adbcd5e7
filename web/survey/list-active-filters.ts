import { filterWords as say } from '../filter-words.ts';
import { rankingWords } from '../ranking-words.ts';
import { describeAssumption } from '../words.ts';
import { FIRST_VIEW, RANGE_IDS, type TableView, withRange } from './table-view.ts';

/** One filter that leaves something out: its words, and the view without it. */
export type ActiveFilter = { readonly id: string; readonly label: string; readonly without: TableView };

/** The filters of a view that leave something out, in the order in which they are offered. */
export function listActiveFilters(view: TableView): readonly ActiveFilter[] {
  const { text, status, ranges, classes, assumed } = view;
  const word = text.trim();
  const active: ActiveFilter[] = [];
  if (word !== '') active.push({ id: 'text', label: say.text(word), without: { ...view, text: '' } });
  if (status !== FIRST_VIEW.status) {
    const label = rankingWords.table.statuses[status];
    active.push({ id: 'status', label, without: { ...view, status: FIRST_VIEW.status } });
  }
  for (const id of RANGE_IDS) {
    const range = ranges[id];
    if (range === undefined) continue;
    const without = { ...view, ranges: withRange(ranges, id, undefined) };
    active.push({ id, label: say.range(id, range), without });
  }
  for (const one of classes) {
    const without = { ...view, classes: classes.filter((other) => other !== one) };
    active.push({ id: `class ${one}`, label: say.roadClass(one), without });
  }
  if (assumed.length > 0) {
    const label = say.assumedList(assumed.map(describeAssumption));
    active.push({ id: 'assumed', label, without: { ...view, assumed: [] } });
  }
  return active;
}
