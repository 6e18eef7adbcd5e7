import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';

/** Of SQLite and of PostgreSQL (53100 disk_full). */
const FULL = new Set(['SQLITE_FULL', '53100']);
/**
 * What passes, or what the operator can mend: SQLite's result codes, PostgreSQL's classes 08 (connection), 25006 (read
 * only), 53 (resources), 57P (shutting down), and a connection that broke.
 */
const PASSING =
  /^(SQLITE_(BUSY|LOCKED|READONLY|IOERR|CANTOPEN)|08|25006|53|57P|ECONN|EPIPE|ETIMEDOUT|ENOTFOUND)/;

/** What to answer where the store, not the program, is at fault: undefined for every other error. */
export function findStoreFault(error: unknown): Refusal | undefined {
  const code = (error as { code?: unknown }).code;
  const text = typeof code === 'string' ? code : '';
  if (FULL.has(text)) return refusal('store-full');
  const { message = '' } = error as { message?: string };
  const isLost =
    PASSING.test(text) || /^(Connection terminated|timeout exceeded when trying to connect)/.test(message);
  return isLost ? refusal('store-failed', { reason: text || message }) : undefined;
}
