import { useState } from 'react';
import { EMPTY_DRAFT, type KeepOutDraft } from './keep-out-draft.ts';

/** The keep-out that is being typed, and whether its section is open: both are set from a chosen beacon, too. */
export type KeepOutDrafting = {
  readonly draft: KeepOutDraft;
  readonly isOpen: boolean;
  /** Grows each time that a beacon asks for a keep-out: the form is brought into sight then. */
  readonly asked: number;
  readonly change: (part: Partial<KeepOutDraft>) => void;
  readonly clear: () => void;
  readonly ask: (draft: KeepOutDraft) => void;
  readonly setOpen: (isOpen: boolean) => void;
};

/** Holds the keep-out that is being typed for one tunnel. */
export function useKeepOutDraft(): KeepOutDrafting {
  const [state, set] = useState({ draft: EMPTY_DRAFT, isOpen: false, asked: 0 });
  return {
    ...state,
    change: (part) => set((now) => ({ ...now, draft: { ...now.draft, ...part } })),
    clear: () => set((now) => ({ ...now, draft: EMPTY_DRAFT })),
    ask: (draft) => set((now) => ({ draft, isOpen: true, asked: now.asked + 1 })),
    setOpen: (isOpen) => set((now) => ({ ...now, isOpen })),
  };
}
