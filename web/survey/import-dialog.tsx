import { useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import { Dialog } from '../ui/dialog.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { AreaForm } from './area-form.tsx';

type Way = 'file' | 'area';

/** Two ways to a survey: a file, or an area that is asked for. */
export function ImportDialog() {
  const { view } = useSessions();
  const { isImportOpen } = useStore(view);
  // Stays what it was while the area is being drawn on the map.
  const [way, setWay] = useState<Way>('file');
  const close = () => {
    view.patch({ isImportOpen: false });
    if (!view.get().isDrawing) view.patch({ area: undefined });
  };
  return (
    <Dialog title={words.import.title} isOpen={isImportOpen} onClose={close}>
      <div className="dialog-body">
        <fieldset className="segments">
          <legend className="hidden-from-sight">{words.import.title}</legend>
          {(['file', 'area'] as const).map((one) => (
            <label key={one}>
              <input type="radio" name="import-way" checked={way === one} onChange={() => setWay(one)} />
              {one === 'file' ? words.import.fromFile : words.import.fromArea}
            </label>
          ))}
        </fieldset>
        {way === 'file' ? <FileChoice onChosen={close} /> : <AreaForm onStarted={close} />}
      </div>
    </Dialog>
  );
}

function FileChoice({ onChosen }: { readonly onChosen: () => void }) {
  const { imports } = useSessions();
  return (
    <div className="file-choice">
      <label className="button primary-label">
        {words.import.choose}
        <input
          type="file"
          className="hidden-from-sight"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file === undefined) return;
            onChosen();
            void imports.startFile(file);
          }}
        />
      </label>
      <span>{words.import.drop}</span>
      <p className="muted">{words.import.formats}</p>
    </div>
  );
}
