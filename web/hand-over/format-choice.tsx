import type { HandOverFormat } from '../../shared/wire/hand-over.ts';
import { handOverWords } from '../hand-over-words.ts';

const say = handOverWords.format;

/** A file, or the report to print. */
export type Format = HandOverFormat | 'report';
/** From what authorities ask for to what crews do; the report last, because it is no file. */
const FORMATS: readonly Format[] = ['zip', 'geojson', 'gpkg', 'csv', 'kml', 'gpx', 'report'];

type FormatChoiceProps = { readonly format: Format; readonly onFormat: (format: Format) => void };

/** One format, each with a sentence on what it is for. */
export function FormatChoice({ format, onFormat }: FormatChoiceProps) {
  return (
    <fieldset className="hand-over-formats">
      <legend>{say.legend}</legend>
      {FORMATS.map((one) => (
        <label key={one} className="hand-over-format">
          <input
            type="radio"
            name="format"
            value={one}
            checked={one === format}
            onChange={() => onFormat(one)}
          />
          <span>
            <strong>{say.names[one].name}</strong>
            <span className="muted">{say.names[one].what}</span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}
