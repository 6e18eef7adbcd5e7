import { type ReactNode, useId } from 'react';

type RuleGroupBoxProps = { readonly title: string; readonly children: ReactNode };

/** Rules that belong together, under their heading. */
export function RuleGroupBox({ title, children }: RuleGroupBoxProps) {
  const id = useId();
  return (
    <section className="rule-group" aria-labelledby={id}>
      <h3 id={id}>{title}</h3>
      {children}
    </section>
  );
}
