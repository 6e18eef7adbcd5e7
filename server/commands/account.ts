import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import {
  type AccountPatch,
  type AccountView,
  newAccountSchema,
  ROLES,
  type Role,
} from '../../shared/wire/accounts.ts';
import { type Accounts, createAccounts } from '../accounts/accounts.ts';
import { readSettings } from '../read-settings.ts';
import { openDatabase } from '../store/open-database.ts';

export type AddOptions = { readonly name?: string; readonly role: string };

/** Makes an account and prints its password on a line of its own, the last; refused as `account-known`. */
export function addAccount(email: string, { name, role }: AddOptions): Promise<Result<null>> {
  return withAccounts(async (accounts) => {
    const asked = newAccountSchema.safeParse({ email, name: name ?? email.split('@')[0], role });
    if (!asked.success) {
      const [issue] = asked.error.issues;
      const reason = `${issue?.path.join('.')}: ${issue?.message}; roles are ${ROLES.join(', ')}`;
      return refused(refusal('request-invalid', { reason }));
    }
    const made = await accounts.add(asked.data);
    if (!made.ok) return made;
    print(`${describe(made.value.account)}\nIts password, told only this once:\n${made.value.password}`);
    return done(null);
  });
}

/** Prints all accounts, one on a line. */
export function listAllAccounts(): Promise<Result<null>> {
  return withAccounts(async (accounts) => {
    const all = await accounts.list();
    print(all.length === 0 ? 'There is no account.' : all.map(describe).join('\n'));
    return done(null);
  });
}

/** Gives an account a new password, prints it and ends its sessions. */
export function renewAccountPassword(email: string): Promise<Result<null>> {
  return withAccount(email, async (accounts, { id }) => {
    const renewed = await accounts.renewPassword(id);
    if (!renewed.ok) return renewed;
    print(`Its new password, told only this once:\n${renewed.value.password}`);
    return done(null);
  });
}

/** Gives an account another role; a server that runs knows at once. */
export function changeAccountRole(email: string, role: string): Promise<Result<null>> {
  if (!ROLES.some((known) => known === role)) {
    return Promise.resolve(refused(refusal('request-invalid', { reason: `roles are ${ROLES.join(', ')}` })));
  }
  return changeAccount(email, { role: role as Role });
}

/** Changes an account and prints what it is now; closing one ends its sessions. */
export function changeAccount(email: string, patch: AccountPatch): Promise<Result<null>> {
  return withAccount(email, async (accounts, { id }) => {
    const changed = await accounts.change(id, patch);
    if (!changed.ok) return changed;
    print(describe(changed.value));
    return done(null);
  });
}

async function withAccount(
  email: string,
  work: (accounts: Accounts, account: AccountView) => Promise<Result<null>>,
): Promise<Result<null>> {
  return withAccounts(async (accounts) => {
    const account = (await accounts.list()).find((one) => one.email === email.toLowerCase());
    return account === undefined ? refused(refusal('account-unknown')) : work(accounts, account);
  });
}

async function withAccounts(
  work: (accounts: Accounts) => Promise<Result<null>>,
  env: NodeJS.ProcessEnv = process.env,
): Promise<Result<null>> {
  // How the server is reached does not matter here.
  const settings = readSettings({ ...env, HOST: '', BOREMARK_AUTH: '' });
  if (typeof settings === 'string') return refused(refusal('settings-unusable', { reason: settings }));
  const opened = await openDatabase(settings);
  if (!opened.ok) return opened;
  try {
    return await work(await createAccounts(opened.value.db, settings.publicUrl, () => new Date()));
  } finally {
    await opened.value.close();
  }
}

function describe({ email, name, role, isClosed }: AccountView): string {
  return `${email}  ${name}  ${role}${isClosed ? '  closed' : ''}`;
}

function print(text: string): void {
  process.stdout.write(`${text}\n`);
}
