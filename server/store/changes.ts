/**
 * That a survey was changed, by whichever server. Without a revision: it may have been, or is gone. Without a survey
 * and without a job: any of them may have been.
 */
export type StoreChange = {
  readonly surveyId?: string;
  readonly revision?: number;
  /** Only the scheme of this complex, which is now at that revision of its own. */
  readonly scheme?: { readonly complexId: string; readonly revision: number };
  /** A job that was changed: it waits for somebody to do it, or it is there no more, or it has come further. */
  readonly job?: { readonly id: string; readonly now?: 'waiting' | 'gone' };
};

export type ChangeListener = (change: StoreChange) => void;

/** Tells listeners of this process; one that throws keeps nobody else from hearing. */
export type ChangeBus = {
  emit(change: StoreChange): void;
  /** Returns how to stop listening. */
  listen(listener: ChangeListener): () => void;
};

export function createChangeBus(): ChangeBus {
  const listeners = new Set<ChangeListener>();
  return {
    emit(change) {
      for (const listener of [...listeners]) {
        try {
          listener(change);
        } catch {}
      }
    },
    listen(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
  };
}
