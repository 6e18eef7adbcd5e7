/** A value that can be watched: what React reads through useSyncExternalStore, without React in this room. */
export type Store<T> = {
  get(): T;
  set(next: T): void;
  /** Replaces some fields; listeners are told once. */
  patch(part: Partial<T>): void;
  subscribe(listener: () => void): () => void;
};

/** Makes a store with a first value. */
export function makeStore<T extends object>(first: T): Store<T> {
  let value = first;
  const listeners = new Set<() => void>();
  const set = (next: T) => {
    if (Object.is(next, value)) return;
    value = next;
    for (const listener of [...listeners]) listener();
  };
  return {
    get: () => value,
    set,
    patch: (part) => set({ ...value, ...part }),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
