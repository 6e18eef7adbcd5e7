import { type FormEvent, useState } from 'react';
import type { Area } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import type { AreaShape } from '../map/map-types.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { AreaFields } from './area-fields.tsx';
import { AreaPreview } from './area-preview.tsx';
import { PlaceSearch } from './place-search.tsx';
import { useAreaPreview } from './use-area-preview.ts';

const say = words.import;

/** An area: found, drawn or typed, with its size and the question that will be asked, before it is asked. */
export function AreaForm({ onStarted }: { readonly onStarted: () => void }) {
  const { view, imports } = useSessions();
  const { area } = useStore(view);
  const [name, setName] = useState('');
  // The fields begin anew where the area came from elsewhere.
  const [found, setFound] = useState(0);
  const preview = useAreaPreview(area);
  const isReady = preview !== undefined && 'query' in preview;

  const take = (bbox: Extract<Area, { bbox: unknown }>['bbox'], placeName: string) => {
    setName(placeName);
    setFound(found + 1);
    view.patch({ area: { bbox } });
  };
  const draw = (drawing: AreaShape) => view.patch({ drawing, isImportOpen: false });
  const ask = (event: FormEvent) => {
    event.preventDefault();
    if (area === undefined || !isReady) return;
    void imports.startArea(area, name.trim() || say.defaultName);
    onStarted();
  };
  return (
    <form className="area-form" onSubmit={ask}>
      <p className="muted">{say.areaNote}</p>
      <PlaceSearch onArea={(bbox, placeName) => take([...bbox], placeName)} />
      <div className="area-draw">
        <button type="button" onClick={() => draw('box')}>
          {say.draw}
        </button>
        <button type="button" onClick={() => draw('outline')}>
          {say.drawOutline}
        </button>
        <span className="muted">{say.drawKeys}</span>
      </div>
      <AreaFields key={found} area={area} onArea={(typed) => view.patch({ area: typed })} />
      <label className="stacked">
        {say.name}
        <input
          type="text"
          value={name}
          maxLength={200}
          placeholder={say.defaultName}
          onChange={(event) => setName(event.target.value)}
        />
      </label>
      <AreaPreview preview={preview} />
      <button type="submit" className="primary" disabled={!isReady}>
        {say.ask}
      </button>
    </form>
  );
}
