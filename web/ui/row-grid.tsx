import { useVirtualizer } from '@tanstack/react-virtual';
import { type CSSProperties, type KeyboardEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import { useRowHeight } from './use-media.ts';

export type RowGridProps = {
  readonly label: string;
  /** CSS grid columns, shared by head and rows. */
  readonly columns: string;
  /** Where less is there, the table scrolls sideways. */
  readonly minWidthPx?: number;
  readonly head: ReactNode;
  readonly count: number;
  /** Lines of text in a row where rows are made for fingers. */
  readonly touchLines?: 1 | 2;
  readonly keyOf: (index: number) => string;
  /** Rows that only head a group cannot be reached. */
  readonly isGroup?: (index: number) => boolean;
  readonly selected: number | undefined;
  /** The row that is in sight and takes the focus first; −1 or undefined: the first one. */
  readonly first?: number | undefined;
  readonly classOf?: (index: number) => string;
  readonly renderRow: (index: number) => ReactNode;
  /** A click, or Enter or Space on the focused row. */
  readonly onOpen: (index: number) => void;
  /** Arrow keys choose at once instead of only moving the focus. */
  readonly choosesOnMove?: boolean;
  readonly onHover?: (index: number | undefined) => void;
  /** Keys that the grid does not take itself; true where it was used. */
  readonly onKey?: (event: KeyboardEvent, index: number) => boolean;
};

const PAGE = 10;

/** A table with many rows: draws those in sight, and one of them takes the focus (arrow keys, Home, End). */
export function RowGrid(props: RowGridProps) {
  const { count, selected, keyOf, isGroup, onOpen } = props;
  const scroller = useRef<HTMLDivElement>(null);
  const rowHeight = useRowHeight(props.touchLines ?? 1);
  const [focused, setFocused] = useState(Math.max(0, props.first ?? 0));
  const wantsFocus = useRef(false);
  const rows = useVirtualizer({
    count,
    getScrollElement: () => scroller.current,
    estimateSize: () => rowHeight,
    getItemKey: keyOf,
    overscan: 12,
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new row height makes every measure void
  useEffect(() => rows.measure(), [rowHeight]);
  const firstRow = nextRow(-1, 1, count, isGroup) ?? 0;
  const active = selected ?? Math.min(Math.max(focused, firstRow), Math.max(0, count - 1));

  // biome-ignore lint/correctness/useExhaustiveDependencies: scrolls only when another row is chosen
  useEffect(() => {
    if (selected !== undefined) rows.scrollToIndex(selected, { align: 'auto' });
  }, [selected]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the table comes back
  useEffect(() => {
    if (props.first !== undefined && props.first > 0) rows.scrollToIndex(props.first, { align: 'center' });
  }, []);
  useEffect(() => {
    if (!wantsFocus.current) return;
    const row = scroller.current?.querySelector<HTMLElement>(`[data-index="${active}"]`);
    if (row === null || row === undefined) return;
    wantsFocus.current = false;
    row.focus({ preventScroll: true });
  });

  const move = (to: number | undefined) => {
    if (to === undefined) return;
    wantsFocus.current = true;
    setFocused(to);
    rows.scrollToIndex(to, { align: 'auto' });
    if (props.choosesOnMove) onOpen(to);
  };
  const press = (event: KeyboardEvent) => {
    const step = STEPS[event.key];
    if (props.onKey?.(event, active)) event.preventDefault();
    else if (step !== undefined && !event.altKey && !event.ctrlKey && !event.metaKey) {
      event.preventDefault();
      move(step(active, count, isGroup));
    } else if (
      (event.key === 'Enter' || event.key === ' ') &&
      event.target instanceof HTMLElement &&
      event.target.role === 'row'
    ) {
      event.preventDefault();
      onOpen(active);
    }
  };

  return (
    // biome-ignore lint/a11y/useSemanticElements: only the rows in sight exist, which a table element cannot say
    <div
      className="grid"
      role="grid"
      aria-label={props.label}
      aria-rowcount={count + 1}
      style={{ '--columns': props.columns, '--min-width': `${props.minWidthPx ?? 0}px` } as CSSProperties}
    >
      {/* biome-ignore lint/a11y/useSemanticElements: see above */}
      <div className="grid-head" role="rowgroup">
        {/* biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: the head's buttons take the focus */}
        <div className="grid-row" role="row" aria-rowindex={1}>
          {props.head}
        </div>
      </div>
      {/* biome-ignore lint/a11y/useSemanticElements: see above */}
      <div className="grid-body" role="rowgroup" ref={scroller} onKeyDown={press}>
        <div role="presentation" style={{ height: rows.getTotalSize() }} />
        {rows.getVirtualItems().map(({ index, key, start }) => (
          // biome-ignore lint/a11y/useSemanticElements: see above
          <div
            key={key}
            role="row"
            data-index={index}
            aria-rowindex={index + 2}
            aria-selected={isGroup?.(index) ? undefined : index === selected}
            tabIndex={index === active ? 0 : -1}
            className={`grid-row ${props.classOf?.(index) ?? ''}`}
            style={{ height: rowHeight, transform: `translateY(${start}px)` }}
            onClick={() => {
              if (isGroup?.(index)) return;
              setFocused(index);
              onOpen(index);
            }}
            onKeyDown={undefined}
            onMouseEnter={() => props.onHover?.(index)}
            onMouseLeave={() => props.onHover?.(undefined)}
            onFocus={() => props.onHover?.(index)}
            onBlur={() => props.onHover?.(undefined)}
          >
            {props.renderRow(index)}
          </div>
        ))}
      </div>
    </div>
  );
}

type IsGroup = RowGridProps['isGroup'];
type Step = (from: number, count: number, isGroup: IsGroup) => number | undefined;

const STEPS: Readonly<Record<string, Step>> = {
  ArrowDown: (from, count, isGroup) => nextRow(from, 1, count, isGroup),
  ArrowUp: (from, count, isGroup) => nextRow(from, -1, count, isGroup),
  PageDown: (from, count, isGroup) => nextRow(Math.min(from + PAGE, count) - 1, 1, count, isGroup),
  PageUp: (from, count, isGroup) => nextRow(Math.max(from - PAGE, -1) + 1, -1, count, isGroup),
  Home: (_, count, isGroup) => nextRow(-1, 1, count, isGroup),
  End: (_, count, isGroup) => nextRow(count, -1, count, isGroup),
};

/** The next row that can be reached in a direction, if there is one. */
function nextRow(from: number, step: 1 | -1, count: number, isGroup: IsGroup): number | undefined {
  for (let index = from + step; index >= 0 && index < count; index += step) {
    if (!isGroup?.(index)) return index;
  }
  return undefined;
}
