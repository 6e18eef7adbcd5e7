import type { AccountPatch, AccountView, Role } from '../../shared/wire/accounts.ts';
import { accountWords } from '../account-words.ts';
import { formatTime } from '../ui/format.ts';

const say = accountWords.accounts;
const ROLES = Object.keys(accountWords.roles) as Role[];

type AccountRowProps = {
  readonly account: AccountView;
  readonly isOwn: boolean;
  readonly onChange: (patch: AccountPatch) => void;
  readonly onNewPassword: () => void;
  readonly onEndSessions: () => void;
};

/** One account: what it may do, when it was used, and what can be done with it. */
export function AccountRow({ account, isOwn, onChange, onNewPassword, onEndSessions }: AccountRowProps) {
  const { name, email, role, isClosed, lastSeenAt, sessions } = account;
  const sure = (question: string, then: () => void) => {
    if (window.confirm(question)) then();
  };
  return (
    <tr className={isClosed ? 'is-closed' : ''}>
      <th scope="row">
        {name} {isOwn && <em className="mark">{say.you}</em>}{' '}
        {isClosed && <em className="mark">{say.closed}</em>}
        <span className="muted">{email}</span>
      </th>
      <td>
        <RoleSelect label={say.roleOf(name)} role={role} onChange={(next) => onChange({ role: next })} />
      </td>
      <td>
        {lastSeenAt === undefined ? <span className="muted">{say.never}</span> : formatTime(lastSeenAt)}
        {sessions > 0 && <span className="muted">{say.sessionCount(sessions)}</span>}
      </td>
      <td>
        {/* One's own password and sessions have dialogs of their own. */}
        {!isOwn && (
          <div className="account-steps">
            <button
              type="button"
              aria-label={say.newPasswordNamed(name)}
              disabled={isClosed}
              onClick={() => sure(say.newPasswordAsk(name), onNewPassword)}
            >
              {say.newPassword}
            </button>
            <button
              type="button"
              aria-label={say.endNamed(name)}
              disabled={sessions === 0}
              onClick={onEndSessions}
            >
              {say.end}
            </button>
            {isClosed ? (
              <button
                type="button"
                aria-label={say.reopenNamed(name)}
                onClick={() => onChange({ isClosed: false })}
              >
                {say.reopen}
              </button>
            ) : (
              <button
                type="button"
                aria-label={say.closeNamed(name)}
                onClick={() => sure(say.closeAsk(name), () => onChange({ isClosed: true }))}
              >
                {say.close}
              </button>
            )}
          </div>
        )}
      </td>
    </tr>
  );
}

type RoleSelectProps = {
  /** Of the label beside it, or its words where there is none. */
  readonly id?: string;
  readonly label?: string;
  readonly role: Role;
  readonly onChange: (role: Role) => void;
};

/** One of the roles, with what it may do as the tip of each. */
export function RoleSelect({ id, label, role, onChange }: RoleSelectProps) {
  return (
    <select
      id={id}
      aria-label={label}
      title={accountWords.roleNotes[role]}
      value={role}
      onChange={(event) => onChange(event.currentTarget.value as Role)}
    >
      {ROLES.map((one) => (
        <option key={one} value={one} title={accountWords.roleNotes[one]}>
          {accountWords.roles[one]}
        </option>
      ))}
    </select>
  );
}
