import { useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { Dialog } from '../ui/dialog.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { AreaForm } from './area-form.tsx';
import { FileChoice } from './file-choice.tsx';

type Way = 'file' | 'area';

/** Two ways to a survey: a file, or an area that is asked for. */
export function ImportDialog() {
  const { view, imports } = useSessions();
  const { isImportOpen } = useStore(view);
  const open = useOpenView();
  // Stays what it was while the area is being drawn on the map.
  const [way, setWay] = useState<Way>('file');
  // The area stays: where it is refused, it is there to be changed.
  const close = () => view.patch({ isImportOpen: false });
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
        {way === 'file' ? (
          <FileChoice
            onChosen={(file) => {
              close();
              void imports.startFile(file);
            }}
          />
        ) : (
          <AreaForm onStarted={close} />
        )}
        {open !== undefined && (
          <p className="muted">
            {words.update.fromImport(open.name)}{' '}
            <button
              type="button"
              className="link"
              onClick={() => {
                close();
                view.patch({ isUpdateOpen: true });
              }}
            >
              {words.update.fromImportAction}
            </button>
          </p>
        )}
      </div>
    </Dialog>
  );
}
