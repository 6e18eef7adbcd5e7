import { useId, useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import { filterWords as say } from '../filter-words.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber } from '../ui/format.ts';
import { Menu } from '../ui/menu.tsx';
import { useStore } from '../ui/use-store.ts';
import { describeAssumption } from '../words.ts';
import { listActiveFilters } from './list-active-filters.ts';
import { isRange, RANGE_IDS, type Range, type RangeId, withRange } from './table-view.ts';

/** Filters by figures, road class and what is assumed; those by name and status stand above the table. */
export function FilterMenu({ rows }: { readonly rows: readonly TunnelRow[] }) {
  const { view } = useSessions();
  const { table } = useStore(view);
  const count = listActiveFilters(table).filter(({ id }) => id !== 'text' && id !== 'status').length;
  return (
    <Menu
      label={count === 0 ? say.action : say.actionWith(count)}
      align="right"
      className={`filter-menu ${count === 0 ? '' : 'is-used'}`}
    >
      {() => (
        <div className="filter-fields">
          {RANGE_IDS.map((id) => (
            <RangeFields key={id} id={id} />
          ))}
          <Choices
            title={say.classes}
            values={countValues(rows.map(({ roadClass }) => [roadClass]))}
            chosen={table.classes}
            describe={say.roadClass}
            onChoose={(classes) => view.patchTable({ classes })}
          />
          <Choices
            title={say.assumed}
            values={countValues(rows.map(({ assumed }) => assumed))}
            chosen={table.assumed}
            describe={describeAssumption}
            onChoose={(assumed) => view.patchTable({ assumed })}
          />
        </div>
      )}
    </Menu>
  );
}

/** From and to of one figure. What is being typed is kept as it is until the field is left. */
function RangeFields({ id }: { readonly id: RangeId }) {
  const { view } = useSessions();
  const { ranges } = useStore(view).table;
  const [typed, setTyped] = useState<{ readonly min: string; readonly max: string }>();
  const errorId = useId();
  const range = ranges[id];
  const { name, unit } = say.ranges[id];
  const shown = typed ?? { min: toText(range?.min), max: toText(range?.max) };
  const isCrossed = typed !== undefined && !isRange(toRange(typed));
  const type = (end: keyof Range, text: string) => {
    const next = { ...shown, [end]: text };
    setTyped(next);
    const read = toRange(next);
    if (isRange(read)) view.patchTable({ ranges: withRange(ranges, id, read) });
  };
  const field = (end: keyof Range) => (
    <input
      type="number"
      min={0}
      step="any"
      aria-label={end === 'min' ? say.from(name, unit) : say.to(name, unit)}
      aria-invalid={isCrossed}
      aria-describedby={isCrossed ? errorId : undefined}
      value={shown[end]}
      onChange={({ target }) => type(end, target.value)}
      onBlur={() => {
        if (!isCrossed) setTyped(undefined);
      }}
    />
  );
  return (
    <fieldset className="bare">
      <legend className="hidden-from-sight">{name}</legend>
      <div className="filter-range">
        <span aria-hidden="true">{name}</span>
        {field('min')}
        <span aria-hidden="true">{say.between}</span>
        {field('max')}
        <span className="muted" aria-hidden="true">
          {unit}
        </span>
        {isCrossed && (
          <p className="bad" role="alert" id={errorId}>
            {say.crossed}
          </p>
        )}
      </div>
    </fieldset>
  );
}

type ChoicesProps = {
  readonly title: string;
  readonly values: readonly (readonly [string, number])[];
  readonly chosen: readonly string[];
  readonly describe: (value: string) => string;
  readonly onChoose: (chosen: readonly string[]) => void;
};

function Choices({ title, values, chosen, describe, onChoose }: ChoicesProps) {
  if (values.length === 0) return null;
  return (
    <fieldset className="bare filter-choices">
      <legend>{title}</legend>
      <div>
        {values.map(([value, count]) => (
          <label className="check" key={value}>
            <input
              type="checkbox"
              checked={chosen.includes(value)}
              onChange={({ target }) =>
                onChoose(
                  values
                    .map(([one]) => one)
                    .filter((one) => (one === value ? target.checked : chosen.includes(one))),
                )
              }
            />
            {describe(value)} <span className="muted">({formatNumber(count)})</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** The values that occur, the most frequent first. */
function countValues(lists: readonly (readonly string[])[]): readonly (readonly [string, number])[] {
  const counts = new Map<string, number>();
  for (const value of lists.flat()) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort(([a, of], [b, than]) => than - of || (a < b ? -1 : 1));
}

function toText(value: number | undefined): string {
  return value === undefined ? '' : String(value);
}

/** What is no number is an open end. */
function toRange({ min, max }: { readonly min: string; readonly max: string }): Range {
  const read = (text: string) =>
    text.trim() === '' || Number.isNaN(Number(text)) ? undefined : Number(text);
  const [from, to] = [read(min), read(max)];
  return { ...(from === undefined ? {} : { min: from }), ...(to === undefined ? {} : { max: to }) };
}
