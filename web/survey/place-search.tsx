import { useEffect, useMemo, useState } from 'react';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { useSessions } from '../app/sessions.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { boxAround, findPlaces, listPlaces, type Place, SIDES_KM } from './find-places.ts';

const say = words.import.places;
/** So many are shown. */
const MOST = 6;

/** Finds an area by the names in the open survey's own map data: no other server is asked. */
export function PlaceSearch({ onArea }: { readonly onArea: (bbox: BBox, name: string) => void }) {
  const places = usePlaces();
  const [text, setText] = useState('');
  const [chosen, setChosen] = useState<Place>();
  if (places === undefined) return <p className="muted">{say.noSurvey}</p>;
  const found = chosen?.name === text ? [] : findPlaces(places, text);
  const choose = (place: Place) => {
    setChosen(place);
    setText(place.name);
    onArea(boxAround(place.at, place.sideKm), place.name);
  };
  const resize = (place: Place, sideKm: number) => {
    setChosen({ ...place, sideKm });
    onArea(boxAround(place.at, sideKm), place.name);
  };
  return (
    <div className="place-search">
      <label className="stacked">
        {say.label}
        <input
          type="search"
          autoComplete="off"
          value={text}
          onChange={(event) => setText(event.target.value)}
          onKeyDown={(event) => {
            const first = found[0];
            // Enter would send the form.
            if (event.key !== 'Enter') return;
            event.preventDefault();
            if (first !== undefined) choose(first);
          }}
        />
      </label>
      {chosen !== undefined && (
        <label className="stacked">
          {say.size}
          <select value={chosen.sideKm} onChange={({ target }) => resize(chosen, Number(target.value))}>
            {SIDES_KM.map((sideKm) => (
              <option key={sideKm} value={sideKm}>
                {say.side(sideKm)}
              </option>
            ))}
          </select>
        </label>
      )}
      <p role="status" className={found.length === 0 && text.trim() === '' ? 'hidden-from-sight' : 'muted'}>
        {text.trim() === '' ? '' : chosen?.name === text ? say.chosen(text) : say.found(found.length, MOST)}
      </p>
      {found.length > 0 && (
        <ul>
          {found.slice(0, MOST).map((place) => (
            <li key={place.key}>
              <button type="button" className="link" onClick={() => choose(place)}>
                {place.name} <span className="muted">{say.kind(place.kind)}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** What can be found; undefined where no survey is open. */
function usePlaces(): readonly Place[] | undefined {
  const { surveys } = useSessions();
  const { open } = useStore(surveys);
  const survey = open?.status === 'ready' ? open.value : undefined;
  const id = survey?.id;
  useEffect(() => {
    if (id !== undefined) surveys.want('context');
  }, [surveys, id]);
  const context = survey?.later.context;
  const loaded = context?.status === 'ready' ? context.value : undefined;
  const rows = survey?.rows;
  return useMemo(() => rows && listPlaces(loaded, rows), [loaded, rows]);
}
