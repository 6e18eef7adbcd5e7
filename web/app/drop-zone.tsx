import { useEffect, useState } from 'react';
import { words } from '../words.ts';
import { useSessions } from './sessions.ts';

/** A file dropped anywhere on the window is imported; nothing dropped ever leaves the page. */
export function DropZone() {
  const { imports, view } = useSessions();
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const holdsFile = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    const over = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file === undefined) return;
      view.patch({ isImportOpen: false });
      void imports.startFile(file);
    };
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, [imports, view]);
  return isOver ? <div className="drop-zone">{words.import.dropNow}</div> : null;
}
