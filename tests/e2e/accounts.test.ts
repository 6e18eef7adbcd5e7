import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mapIdle, saved } from './page.ts';
import { type Credentials, chromium, type RunningApp, signIn, startApp, watchFaults } from './start-app.ts';

const NEW_PASSWORD = 'four quiet lamps by the harbour';

describe.skipIf(chromium === undefined)('accounts (skipped where there is no Chromium)', () => {
  let app: RunningApp;
  let admin: Credentials;
  beforeAll(async () => {
    app = await startApp(chromium as string, { hasAccounts: true });
    if (app.administrator === undefined) throw new Error('no administrator');
    admin = app.administrator;
  });
  afterAll(() => app?.stop());

  /** A browser of its own, at an address of the app. */
  const visit = async (path = '/?survey=aldermouth') => {
    const context = await app.browser.newContext({
      viewport: { width: 1440, height: 900 },
      reducedMotion: 'reduce',
    });
    const page = await context.newPage();
    const heard = watchFaults(page);
    // What is refused on purpose, the browser tells as a fault.
    const faults = () => heard.filter((text) => !/status of 40[134]/.test(text));
    await page.goto(`${app.url}${path}`);
    return { page, faults, close: () => context.close() };
  };
  const enter = async (who: Credentials) => {
    const visitor = await visit();
    await fillIn(visitor.page, who);
    await atSurvey(visitor.page);
    return visitor;
  };
  /** Makes an account over the API, as the administrator. */
  const add = async (name: string, role: string): Promise<Credentials & { readonly id: string }> => {
    const email = `${name.toLowerCase()}@example.org`;
    const response = await fetch(`${app.url}/api/accounts`, {
      method: 'POST',
      body: JSON.stringify({ name, email, role }),
      headers: { 'content-type': 'application/json', cookie: await signIn(app.url, admin) },
    });
    expect(response.status).toBe(201);
    const made = (await response.json()) as { account: { id: string }; password: string };
    return { email, password: made.password, id: made.account.id };
  };

  it('asks for a sign-in before anything else, tells a wrong password, and stays signed in', async () => {
    const { page, faults, close } = await visit();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect(await page.getByText('Kell Hill Interchange').count()).toBe(0);
    const axe = await new AxeBuilder({ page }).analyze();
    expect(axe.violations.map(({ id }) => id)).toEqual([]);

    await fillIn(page, { ...admin, password: 'not the password' });
    await page.getByRole('alert').filter({ hasText: 'do not belong together' }).waitFor();
    const password = page.getByLabel('Password', { exact: true });
    expect(await password.evaluate((field) => field === document.activeElement)).toBe(true);
    await password.fill(admin.password);
    await page.getByRole('button', { name: 'Show the password' }).click();
    expect(await password.getAttribute('type')).toBe('text');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await atSurvey(page);
    await page.reload();
    await atSurvey(page);

    await openMenu(page);
    await page.getByText('Administrator · admin@example.org').waitFor();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect(await page.getByText('Kell Hill Interchange').count()).toBe(0);
    expect(faults()).toEqual([]);
    await close();
  });

  it('lets an administrator make a reader, who sees everything and changes nothing', async () => {
    const mine = await enter(admin);
    await openMenu(mine.page);
    await mine.page.getByRole('button', { name: 'Accounts…' }).click();
    await mine.page.getByRole('textbox', { name: 'Name' }).fill('Rea');
    await mine.page.getByRole('textbox', { name: 'E-mail' }).fill('rea@example.org');
    await mine.page.getByRole('button', { name: 'Add', exact: true }).click();
    const password = (await mine.page.getByTestId('secret').textContent()) ?? '';
    expect(password.length).toBeGreaterThanOrEqual(12);
    const axe = await new AxeBuilder({ page: mine.page }).include('dialog').analyze();
    expect(axe.violations.map(({ id }) => id)).toEqual([]);

    const theirs = await enter({ email: 'rea@example.org', password });
    const { page } = theirs;
    await page.getByTestId('reading-only').filter({ hasText: 'your account may not change' }).waitFor();
    expect(await page.getByRole('button', { name: 'Import', exact: true }).count()).toBe(0);
    await page.getByRole('gridcell', { name: 'Quayside Tunnel' }).first().click();
    const spacing = page.getByRole('spinbutton', { name: 'Spacing' });
    await spacing.waitFor();
    expect(await spacing.isDisabled()).toBe(true);
    expect(await page.getByRole('button', { name: 'Undo' }).count()).toBe(0);
    // A beacon can be chosen, and no key moves it.
    const row = page.getByRole('gridcell', { name: 'portal' }).first();
    await row.click();
    const told = page.getByText(/^Beacon at \d\+\d{3}$/);
    const before = await told.textContent();
    await page.keyboard.press(']');
    await page.waitForTimeout(1500);
    expect(await told.textContent()).toBe(before);
    // The server says so, too, whatever the page does.
    const status = await page.evaluate(async () => {
      const init = { method: 'PATCH', headers: { 'content-type': 'application/json' } };
      return (await fetch('/api/surveys/aldermouth', { ...init, body: '{"name":"Mine"}' })).status;
    });
    expect(status).toBe(403);

    await mine.page.getByRole('combobox', { name: 'Role of Rea' }).selectOption('planner');
    await expect
      .poll(async () => {
        // Without the tunnel that is open.
        await page.goto(app.url);
        await atSurvey(page);
        return page.getByRole('button', { name: 'Import', exact: true }).count();
      })
      .toBe(1);
    for (const { faults, close } of [mine, theirs]) {
      expect(faults()).toEqual([]);
      await close();
    }
  });

  it('shows one survey by a link, read-only, until the link is taken back', async () => {
    const planner = await enter(await add('Pla', 'planner'));
    await planner.page.getByRole('button', { name: /^Survey: / }).click();
    await planner.page.getByRole('button', { name: 'Share…' }).click();
    await planner.page.getByRole('textbox', { name: 'For whom' }).fill('Fire brigade');
    await planner.page.getByRole('button', { name: 'Make a link' }).click();
    const link = new URL((await planner.page.getByTestId('secret').textContent()) ?? '');
    expect(link.origin).toBe(app.url);

    const guest = await visit(`${link.pathname}${link.hash}`);
    await atSurvey(guest.page);
    expect(guest.page.url()).not.toContain('share');
    expect(guest.page.url()).toContain('survey=aldermouth');
    await guest.page.getByTestId('reading-only').filter({ hasText: 'this link' }).waitFor();
    expect(await guest.page.getByRole('button', { name: 'Import', exact: true }).count()).toBe(0);
    await openMenu(guest.page);
    await guest.page
      .getByText(/^Shared view until \d{4}-\d\d-\d\d$/)
      .last()
      .waitFor();
    // Reads work: the tunnel, its history, the ranking.
    await guest.page.keyboard.press('Escape');
    await guest.page.getByRole('button', { name: 'Which first' }).click();
    await guest.page.getByRole('row').filter({ hasText: 'Harbour Tunnel' }).first().waitFor();
    const beyond = await guest.page.evaluate(async () => (await fetch('/api/accounts')).status);
    expect([401, 403]).toContain(beyond);

    await planner.page.getByRole('button', { name: 'Take back the link for Fire brigade' }).click();
    await planner.page.getByText('The link for Fire brigade holds no more.').waitFor();
    await guest.page.reload();
    await guest.page.getByRole('heading', { name: 'Sign in' }).waitFor();
    const late = await visit(`${link.pathname}${link.hash}`);
    await late.page.getByRole('alert').filter({ hasText: 'This link does not hold' }).waitFor();
    for (const { faults, close } of [planner, guest, late]) {
      expect(faults()).toEqual([]);
      await close();
    }
  });

  it('keeps an edit while the session has ended, and saves it after signing in again', async () => {
    const who = await add('Edi', 'planner');
    const { page, faults, close } = await enter(who);
    await page.getByRole('gridcell', { name: 'Quayside Tunnel' }).first().click();
    const spacing = page.getByRole('spinbutton', { name: 'Spacing' });
    await spacing.waitFor();
    const ended = await fetch(`${app.url}/api/accounts/${who.id}/sessions`, {
      method: 'DELETE',
      headers: { cookie: await signIn(app.url, admin) },
    });
    expect(ended.status).toBe(204);
    // The page may have heard of it already, by the events that it follows.
    const dialog = page.getByRole('dialog', { name: 'Sign in again' });
    const close1 = dialog.getByRole('button', { name: 'Close' });
    if (await dialog.isVisible()) await close1.click();
    await spacing.fill('35');
    await spacing.press('Enter');
    await page.getByText('1 edit not saved').waitFor();
    if (!(await dialog.isVisible())) {
      await page.getByText('Edits are kept here until you sign in again.').waitFor();
      await page.getByRole('button', { name: 'Sign in', exact: true }).click();
    }
    expect(await dialog.getByLabel('E-mail').inputValue()).toBe(who.email);
    await dialog.getByLabel('Password', { exact: true }).fill(who.password);
    await dialog.getByRole('button', { name: 'Sign in', exact: true }).click();
    await saved(page);
    expect(await dialog.isVisible()).toBe(false);
    await page.reload();
    await page.getByText(/^\d+ beacons at 35 m/).waitFor();
    expect(faults()).toEqual([]);
    await close();
  });

  it('changes a password, which ends the other sessions', async () => {
    const who = await add('Pas', 'reader');
    const one = await enter(who);
    const other = await enter(who);
    await openMenu(one.page);
    await one.page.getByRole('button', { name: 'My sessions…' }).click();
    await one.page.getByText('this one').waitFor();
    expect(await one.page.getByRole('dialog').getByRole('listitem').count()).toBe(2);
    await one.page.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).click();

    await openMenu(one.page);
    await one.page.getByRole('button', { name: 'Change password…' }).click();
    const change = async (current: string, next: string, repeat: string) => {
      await one.page.getByLabel('Present password').fill(current);
      await one.page.getByLabel('New password', { exact: false }).first().fill(next);
      await one.page.getByLabel('New password again').fill(repeat);
      await one.page.getByRole('button', { name: 'Change password', exact: true }).click();
    };
    const alert = (text: string) => one.page.getByRole('alert').filter({ hasText: text }).waitFor();
    await change(who.password, 'short', 'short');
    await alert('at least 12 characters');
    await change(who.password, NEW_PASSWORD, `${NEW_PASSWORD}!`);
    await alert('not typed the same twice');
    await change('something else', NEW_PASSWORD, NEW_PASSWORD);
    await alert('The present password is another one.');
    await change(who.password, NEW_PASSWORD, NEW_PASSWORD);
    await one.page.getByText('The password is changed.').waitFor();

    await other.page.reload();
    await other.page.getByRole('heading', { name: 'Sign in' }).waitFor();
    await fillIn(other.page, who);
    await other.page.getByRole('alert').waitFor();
    await fillIn(other.page, { ...who, password: NEW_PASSWORD });
    await atSurvey(other.page);
    for (const { faults, close } of [one, other]) {
      expect(faults()).toEqual([]);
      await close();
    }
  });
});

async function fillIn(page: Page, { email, password }: Credentials): Promise<void> {
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
}

async function atSurvey(page: Page): Promise<void> {
  await page.getByText('Kell Hill Interchange').first().waitFor();
  await mapIdle(page);
}

async function openMenu(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^Account: / }).click();
}
