import { type ReactNode, useEffect, useId, useRef } from 'react';
import { words } from '../words.ts';

type DialogProps = {
  readonly title: string;
  readonly isOpen: boolean;
  /** Holds a table. */
  readonly isWide?: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
};

/** A modal dialog: the browser's own, so focus stays inside and Escape shuts it. */
export function Dialog({ title, isOpen, isWide = false, onClose, children }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    if (isOpen && dialog.current?.open === false) dialog.current.showModal();
    if (!isOpen && dialog.current?.open === true) dialog.current.close();
  }, [isOpen]);
  return (
    <dialog ref={dialog} className={isWide ? 'wide' : undefined} aria-labelledby={id} onClose={onClose}>
      <div className="dialog-head">
        <h2 id={id}>{title}</h2>
        <button type="button" className="quiet" onClick={onClose}>
          {words.close}
        </button>
      </div>
      {isOpen && children}
    </dialog>
  );
}
