import type { ReactNode } from 'react';

type InputSectionProps = {
  readonly title: string;
  /** What was set, in a word or two; seen while it is closed. */
  readonly state: string;
  readonly children: ReactNode;
};

/** A group of inputs that is closed at first. */
export function InputSection({ title, state, children }: InputSectionProps) {
  return (
    <details className="input-section">
      <summary>
        <h3>{title}</h3> <span className="muted">{state}</span>
      </summary>
      <div className="input-body">{children}</div>
    </details>
  );
}
