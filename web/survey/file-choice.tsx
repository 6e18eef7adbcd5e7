import { words } from '../words.ts';

/** A file to be chosen, or dropped anywhere on the window. */
export function FileChoice({ onChosen }: { readonly onChosen: (file: File) => void }) {
  return (
    <div className="file-choice">
      <label className="button primary-label">
        {words.import.choose}
        <input
          type="file"
          className="hidden-from-sight"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file !== undefined) onChosen(file);
          }}
        />
      </label>
      <span>{words.import.drop}</span>
      <p className="muted">{words.import.formats}</p>
    </div>
  );
}
