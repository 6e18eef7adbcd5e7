import { Component, type ReactNode } from 'react';
import { words } from '../words.ts';

type Props = {
  readonly children: ReactNode;
  /** Shown instead of the whole-page message. */
  readonly fallback?: ReactNode;
};

/** A fault of the page is told, not shown as a white screen. */
export class ErrorBoundary extends Component<Props, { readonly error: Error | undefined }> {
  override state: { readonly error: Error | undefined } = { error: undefined };

  static getDerivedStateFromError(error: Error) {
    return { error };
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (error === undefined) return this.props.children;
    if (this.props.fallback !== undefined) return this.props.fallback;
    return (
      <main className="empty" role="alert">
        <h1>{words.errors.title}</h1>
        <p>{words.errors.text}</p>
        <pre>{error.message}</pre>
        <button type="button" onClick={() => window.location.reload()}>
          {words.errors.reload}
        </button>
      </main>
    );
  }
}
