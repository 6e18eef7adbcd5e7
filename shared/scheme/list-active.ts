type Entry = { readonly kind: string; readonly commandId: string } & {
  readonly revertedId?: string;
};

/** The entries of a log that count: those that no counting `revert` takes back. Read from the end, since reverts come later. */
export function listActive(log: readonly Entry[]): ReadonlySet<string> {
  const reverted = new Set<string>();
  const active = new Set<string>();
  for (const entry of [...log].reverse()) {
    if (reverted.has(entry.commandId)) continue;
    active.add(entry.commandId);
    if (entry.kind === 'revert' && entry.revertedId !== undefined) reverted.add(entry.revertedId);
  }
  return active;
}
