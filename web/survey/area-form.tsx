import { type FormEvent, useEffect, useState } from 'react';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { useSessions } from '../app/sessions.ts';
import { formatNumber } from '../ui/format.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { PlaceSearch } from './place-search.tsx';
import { type AreaTexts, fromTexts, toTexts } from './read-area.ts';

const LIMITS = ['west', 'south', 'east', 'north'] as const;
/** Typing waits this long before the question is asked for again. */
const PAUSE_MS = 300;

type Preview = { readonly query: string; readonly areaKm2: number } | { readonly problem: string };

/** An area: drawn or typed, with its size and the question that will be asked, before it is asked. */
export function AreaForm({ onStarted }: { readonly onStarted: () => void }) {
  const { view, imports } = useSessions();
  const { area } = useStore(view);
  const [texts, setTexts] = useState<AreaTexts>(() => toTexts(area));
  const [name, setName] = useState('');
  const typed = fromTexts(texts);
  const preview = usePreview(typed);
  const isReady = preview !== undefined && 'query' in preview;

  const type = (limit: (typeof LIMITS)[number], text: string) => {
    const next = { ...texts, [limit]: text };
    setTexts(next);
    view.patch({ area: fromTexts(next) });
  };
  const take = (bbox: BBox, placeName: string) => {
    setTexts(toTexts(bbox));
    setName(placeName);
    view.patch({ area: bbox });
  };
  const draw = () => view.patch({ isDrawing: true, isImportOpen: false });
  const ask = (event: FormEvent) => {
    event.preventDefault();
    if (typed === undefined || !isReady) return;
    void imports.startArea({ bbox: [...typed] }, name.trim() || words.import.defaultName);
    onStarted();
  };
  return (
    <form className="area-form" onSubmit={ask}>
      <p className="muted">{words.import.areaNote}</p>
      <PlaceSearch onArea={take} />
      <div className="area-draw">
        <button type="button" onClick={draw}>
          {words.import.draw}
        </button>
        <span className="muted">{words.import.drawKeys}</span>
      </div>
      <div className="limits">
        {LIMITS.map((limit) => (
          <label key={limit} className={`stacked limit-${limit}`}>
            {words.import[limit]} {words.import.degrees}
            <input
              type="text"
              inputMode="decimal"
              autoComplete="off"
              value={texts[limit]}
              onChange={(event) => type(limit, event.target.value)}
            />
          </label>
        ))}
      </div>
      <label className="stacked">
        {words.import.name}
        <input
          type="text"
          value={name}
          maxLength={200}
          placeholder={words.import.defaultName}
          onChange={(event) => setName(event.target.value)}
        />
      </label>
      <div aria-live="polite">
        {preview === undefined ? (
          <p className="muted">{words.import.fill}</p>
        ) : 'problem' in preview ? (
          <p className="bad">{preview.problem}</p>
        ) : (
          <>
            <p>
              <strong>
                {words.import.size(formatNumber(preview.areaKm2, preview.areaKm2 < 10 ? 2 : 0))}
              </strong>
            </p>
            <details>
              <summary>{words.import.question}</summary>
              {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard */}
              <pre tabIndex={0}>{preview.query}</pre>
            </details>
          </>
        )}
      </div>
      <button type="submit" className="primary" disabled={!isReady}>
        {words.import.ask}
      </button>
    </form>
  );
}

function usePreview(area: BBox | undefined): Preview | undefined {
  const { api } = useSessions();
  const [preview, setPreview] = useState<Preview>();
  const key = area?.join(',');
  useEffect(() => {
    setPreview(undefined);
    if (key === undefined) return;
    const [west, south, east, north] = key.split(',').map(Number) as [number, number, number, number];
    let isCurrent = true;
    const timer = setTimeout(async () => {
      const answer = await api.previewArea({ bbox: [west, south, east, north] });
      if (isCurrent) setPreview(answer.ok ? answer.value : { problem: answer.problem.detail });
    }, PAUSE_MS);
    return () => {
      isCurrent = false;
      clearTimeout(timer);
    };
  }, [key, api]);
  return preview;
}
