import { AsyncLocalStorage } from 'node:async_hooks';

const acting = new AsyncLocalStorage<string>();

/** Runs `work`, and everything that it starts, in the name of an account: the store writes down who made a change. */
export function runAs<T>(accountId: string | undefined, work: () => T): T {
  return accountId === undefined ? acting.exit(work) : acting.run(accountId, work);
}

/** The account that acts; undefined where there are none. */
export function whoActs(): string | undefined {
  return acting.getStore();
}
