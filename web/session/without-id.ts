/** A command before it has its id. */
export type WithoutId<C extends { readonly commandId: string }> = C extends unknown
  ? Omit<C, 'commandId'>
  : never;
