import type { TunnelStatus } from '../session/tunnel-row.ts';
import { words } from '../words.ts';

type StatusMarkProps = { readonly status: TunnelStatus; readonly isShort?: boolean };

/** How far a tunnel is equipped: a symbol of its own shape and the word. */
export function StatusMark({ status, isShort = false }: StatusMarkProps) {
  return (
    <span className={`status-mark ${status.replace(' ', '-')}`}>
      <svg viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">
        <circle className="ring" cx="6" cy="6" r="5" />
        {status === 'none' && <path className="ring" d="M2.5 9.5 L9.5 2.5" />}
        {status === 'partly equipped' && <path className="fill" d="M6 1 A5 5 0 0 0 6 11 Z" />}
        {status === 'equipped' && <circle className="fill" cx="6" cy="6" r="5" />}
      </svg>{' '}
      {isShort && status === 'partly equipped' ? words.partly : words.status[status]}
    </span>
  );
}
