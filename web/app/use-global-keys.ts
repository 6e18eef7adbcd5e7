import { useEffect } from 'react';
import { useSessions } from './sessions.ts';

/** Ctrl+Z takes an edit back, Ctrl+Shift+Z (or Ctrl+Y) brings it again; in a text field the field's own undo works. */
export function useGlobalKeys(): void {
  const { designs } = useSessions();
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || isTextField(event.target)) return;
      const key = event.key.toLowerCase();
      const { current } = designs.get();
      if (current === undefined) return;
      if (key === 'z' && !event.shiftKey) current.undo();
      else if ((key === 'z' && event.shiftKey) || key === 'y') current.redo();
      else return;
      event.preventDefault();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, [designs]);
}

/** A field that is being written in; a number or a slider has no text worth its own undo. */
function isTextField(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLInputElement && ['text', 'search'].includes(target.type) && target.value !== ''
  );
}
