import type { Transaction } from 'kysely';
import type { Tables } from '../store/tables.ts';

/** A job that was handed out; `settle` tells the queue so, with the transaction that makes somebody its runner. */
export type HandedOut = {
  readonly jobId: string;
  readonly settle: (trx: Transaction<Tables>) => Promise<void>;
};

/** Hands out the jobs that wait, each to one of all who ask. */
export type JobQueue = {
  /** Adds a job with the transaction that makes it wait; one that was begun before goes first. */
  add(trx: Transaction<Tables>, jobId: string, wasBegun: boolean): Promise<void>;
  take(): Promise<HandedOut | undefined>;
  /** How often to ask where nobody has told that a job waits. */
  readonly pollMs: number;
  close(): Promise<void>;
};
