import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber } from '../ui/format.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { type JoinCandidate, listJoinCandidates } from './list-join-candidates.ts';

type JoinBoxProps = {
  readonly row: TunnelRow;
  readonly isWorking: boolean;
  readonly failure: string | undefined;
  readonly onJoin: (candidate: JoinCandidate) => void;
  readonly onClose: () => void;
};

/** The other tunnels that could belong to this one, nearest first; the map shows the one under the pointer. */
export function JoinBox({ row, isWorking, failure, onJoin, onClose }: JoinBoxProps) {
  const { surveys, view } = useSessions();
  const { open } = useStore(surveys);
  const [text, setText] = useState('');
  const input = useRef<HTMLInputElement>(null);
  const id = useId();
  const survey = open?.status === 'ready' ? open.value : undefined;
  useEffect(() => surveys.want('bores'), [surveys]);
  const bores = survey?.later.bores;
  const features = bores?.status === 'ready' ? bores.value.features : undefined;
  const { candidates, farther } = useMemo(
    () => listJoinCandidates(row, survey?.rows ?? [], features ?? [], text),
    [row, survey, features, text],
  );
  const nearest = candidates[0]?.row.bbox;
  const isMeasured = features !== undefined;
  useEffect(() => {
    input.current?.focus();
    return () => view.patch({ hoveredId: undefined });
  }, [view]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the bores are there
  useEffect(() => {
    // The nearest candidate comes into sight, so that it can be told by the map.
    if (nearest !== undefined) view.goTo(unite(row.bbox, nearest));
  }, [isMeasured]);
  const point = (hoveredId: string | undefined) => view.patch({ hoveredId });
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Escape shuts the box from wherever the focus is in it
    <div
      className="join-box"
      onKeyDown={(event) => {
        if (event.key === 'Escape' && text === '') onClose();
      }}
    >
      <div className="join-head">
        <label htmlFor={id}>{words.grouping.joinTitle(row.name)}</label>
        <button type="button" className="quiet" onClick={onClose}>
          {words.cancel}
        </button>
      </div>
      <input
        id={id}
        ref={input}
        type="search"
        autoComplete="off"
        placeholder={words.grouping.filter}
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
      {failure !== undefined && (
        <p className="bad" role="alert">
          {failure}
        </p>
      )}
      {!isMeasured ? (
        <p className="muted" role="status">
          {words.loading}
        </p>
      ) : candidates.length === 0 ? (
        <p className="muted" role="status">
          {text.trim() === '' ? words.grouping.noCandidate : words.grouping.noMatch(text)}
        </p>
      ) : (
        <ul aria-label={words.grouping.candidates} aria-busy={isWorking}>
          {candidates.map((candidate) => (
            <li key={candidate.row.id}>
              <button
                type="button"
                className="quiet"
                disabled={isWorking}
                onClick={() => onJoin(candidate)}
                onMouseEnter={() => point(candidate.row.id)}
                onMouseLeave={() => point(undefined)}
                onFocus={() => point(candidate.row.id)}
                onBlur={() => point(undefined)}
              >
                <span className="tunnel-name">{candidate.row.name}</span>
                <span className="muted">{describe(candidate)}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {isWorking && <p role="status">{words.grouping.working}</p>}
      {farther > 0 && <p className="muted">{words.grouping.farther(farther)}</p>}
    </div>
  );
}

function describe({ row, distanceM }: JoinCandidate): string {
  const away = distanceM < 0.5 ? words.grouping.meets : words.grouping.away(formatNumber(distanceM));
  return [...(row.ref === undefined ? [] : [row.ref]), `${formatNumber(row.lengthM)} m`, away].join(' · ');
}

function unite(a: TunnelRow['bbox'], b: TunnelRow['bbox']): TunnelRow['bbox'] {
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
}
