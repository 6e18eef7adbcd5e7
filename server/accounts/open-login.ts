import type { Settings } from '../read-settings.ts';
import type { Store } from '../store/store.ts';
import { createAccounts } from './accounts.ts';
import { createShares } from './shares.ts';
import type { Login } from './visitor.ts';

/** Opens accounts and links of a store, and says on standard error what an operator has to know of them. */
export async function openLogin(
  { db }: Store,
  { publicUrl, isBehindProxy }: Settings,
  now: () => Date,
): Promise<Login> {
  const accounts = await createAccounts(db, publicUrl, now);
  const warn = (words: string) => process.stderr.write(`boremark: ${words}\n`);
  const isOpen = (await accounts.list()).some(({ role, isClosed }) => role === 'administrator' && !isClosed);
  if (!isOpen) {
    warn(
      'there is no administrator yet: boremark account add you@example.org --name You --role administrator',
    );
  }
  if (publicUrl.startsWith('http:') && !/^http:\/\/(localhost|127\.|\[::1\])/.test(publicUrl)) {
    warn(
      `${publicUrl} is not https: passwords can be read on the way. Put a proxy with a certificate in front.`,
    );
  }
  return { accounts, shares: createShares(db, now), publicUrl, isBehindProxy };
}
