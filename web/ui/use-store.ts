import { useSyncExternalStore } from 'react';

type Readable<T> = { get(): T; subscribe(listener: () => void): () => void };

/** What a store holds now; renders again when it changes. */
export function useStore<T>(store: Readable<T>): T {
  return useSyncExternalStore(store.subscribe, store.get);
}
