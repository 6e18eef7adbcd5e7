import { useEffect, useRef, useState } from 'react';
import { accountWords } from '../account-words.ts';

const say = accountWords.secret;

type SecretNoteProps = {
  readonly title: string;
  readonly note: string;
  readonly secret: string;
  readonly onDone: () => void;
};

/** What is told once: a password that was made, or a link. */
export function SecretNote({ title, note, secret, onDone }: SecretNoteProps) {
  const [state, setState] = useState<'fresh' | 'copied' | 'failed'>('fresh');
  const text = useRef<HTMLElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => button.current?.focus(), []);
  const copy = async () => {
    const isCopied = await navigator.clipboard?.writeText(secret).then(
      () => true,
      () => false,
    );
    // Browsers have a clipboard on secure pages only; marked, it is one key away.
    if (!isCopied && text.current !== null) window.getSelection()?.selectAllChildren(text.current);
    setState(isCopied ? 'copied' : 'failed');
  };
  return (
    <section className="secret" aria-label={title}>
      <h3>{title}</h3>
      <div className="secret-line">
        <code ref={text} data-testid="secret">
          {secret}
        </code>
        <button type="button" ref={button} onClick={() => void copy()}>
          {state === 'copied' ? say.copied : say.copy}
        </button>
      </div>
      <p className="muted" role="status">
        {state === 'failed' ? say.notCopied : note}
      </p>
      <button type="button" onClick={onDone}>
        {say.done}
      </button>
    </section>
  );
}
