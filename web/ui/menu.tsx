import { type ReactNode, useEffect, useId, useRef, useState } from 'react';

type MenuProps = {
  readonly label: ReactNode;
  /** What a screen reader says where the label alone is too short. */
  readonly title?: string;
  readonly className?: string;
  readonly align?: 'left' | 'right';
  readonly isDisabled?: boolean;
  /** The panel; `close` shuts it. */
  readonly children: (close: () => void) => ReactNode;
};

/** A button with a panel below it that shuts on Escape, on a click elsewhere and when the focus leaves. */
export function Menu({ label, title, className, align = 'left', isDisabled = false, children }: MenuProps) {
  const [isOpen, setOpen] = useState(false);
  const box = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const id = useId();
  useEffect(() => {
    if (!isOpen) return;
    const press = (event: PointerEvent) => {
      if (!box.current?.contains(event.target as Node)) setOpen(false);
    };
    const key = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      event.stopPropagation();
      setOpen(false);
      button.current?.focus();
    };
    const leave = (event: FocusEvent) => {
      if (event.relatedTarget !== null && !box.current?.contains(event.relatedTarget as Node)) setOpen(false);
    };
    const element = box.current;
    document.addEventListener('pointerdown', press);
    document.addEventListener('keydown', key, true);
    element?.addEventListener('focusout', leave);
    return () => {
      document.removeEventListener('pointerdown', press);
      document.removeEventListener('keydown', key, true);
      element?.removeEventListener('focusout', leave);
    };
  }, [isOpen]);
  return (
    <div className={`menu ${className ?? ''}`} ref={box}>
      <button
        type="button"
        ref={button}
        aria-expanded={isOpen}
        aria-controls={isOpen ? id : undefined}
        title={title}
        disabled={isDisabled}
        onClick={() => setOpen(!isOpen)}
      >
        {label}
      </button>
      {isOpen && (
        <div className={`menu-panel ${align === 'right' ? 'to-left' : ''}`} id={id}>
          {children(() => setOpen(false))}
        </div>
      )}
    </div>
  );
}
