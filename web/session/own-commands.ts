const KEY = 'boremark-own-commands';
/** Older ones are forgotten: nobody undoes that far back. */
const KEPT = 2000;

/** The ids of the edits that were made in this browser tab. */
export type OwnCommands = { has(commandId: string): boolean; add(commandId: string): void };

/**
 * Remembers own edits in the tab's storage, so that undo still works after a reload. Where the storage is closed
 * to us they are remembered as long as the page.
 */
export function createOwnCommands(findStorage: () => Pick<Storage, 'getItem' | 'setItem'>): OwnCommands {
  const ids = new Set(read(findStorage));
  return {
    has: (commandId) => ids.has(commandId),
    add(commandId) {
      ids.add(commandId);
      try {
        findStorage().setItem(KEY, JSON.stringify([...ids].slice(-KEPT)));
      } catch {
        // Undo then ends with the page.
      }
    },
  };
}

function read(findStorage: () => Pick<Storage, 'getItem'>): string[] {
  try {
    const stored: unknown = JSON.parse(findStorage().getItem(KEY) ?? '[]');
    return Array.isArray(stored) ? stored.filter((id) => typeof id === 'string') : [];
  } catch {
    return [];
  }
}
