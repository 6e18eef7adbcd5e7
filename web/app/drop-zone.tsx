import { useEffect, useState } from 'react';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { useSessions } from './sessions.ts';

/**
 * A file dropped anywhere on the window is imported; while a newer extract is asked for, it is that one. Nothing
 * dropped ever leaves the page.
 */
export function DropZone() {
  const { api, imports, updates, surveys, view, who } = useSessions();
  const { isUpdateOpen } = useStore(view);
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const holdsFile = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    // Traffic counts and inventories are dropped where they belong.
    const takesItself = () => view.get().address.panel === 'evidence';
    const over = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      if (!takesItself() && who.rights().mayEdit) setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      setOver(false);
      if (takesItself() || !who.rights().mayEdit) return;
      const file = event.dataTransfer?.files[0];
      if (file === undefined) return;
      const { openId } = surveys.get();
      const isUpdate = view.get().isUpdateOpen && openId !== undefined;
      view.patch({ isImportOpen: false, isUpdateOpen: false });
      if (isUpdate) void updates.start(file.name, api.uploadCandidate(openId, file));
      else void imports.startFile(file);
    };
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, [api, imports, updates, surveys, view, who]);
  return isOver ? (
    <div className="drop-zone">{isUpdateOpen ? words.update.dropNow : words.import.dropNow}</div>
  ) : null;
}
