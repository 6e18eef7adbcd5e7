import type { Transaction } from 'kysely';
import type { StoreChange } from './changes.ts';
import type { Tables } from './tables.ts';

/** Thrown inside a transaction to undo it where somebody else was quicker. */
export class Overtaken extends Error {}

/** All of it or nothing, and then told to every server what `work` answers; false where it threw Overtaken. */
export type Commit = (work: (trx: Transaction<Tables>) => Promise<StoreChange>) => Promise<boolean>;
