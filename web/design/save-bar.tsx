import type { DesignSession } from '../session/design-session.ts';
import type { DesignNotice, OpenDesign } from '../session/design-state.ts';
import { words } from '../words.ts';
import { describeCommand, describeCommands } from './describe-command.ts';

type SaveBarProps = { readonly session: DesignSession; readonly open: OpenDesign };

/** Undo, redo, and whether everything is saved. */
export function SaveBar({ session, open }: SaveBarProps) {
  const { undo, redo } = session.findSteps();
  // Edits that a conflict holds back are not saved either.
  const asked = open.notice?.kind === 'conflict' ? open.notice.mine.length : 0;
  const saving = asked > 0 ? 'unsaved' : open.saving;
  return (
    <div className="save-bar">
      <button
        type="button"
        disabled={undo === undefined}
        title={undo === undefined ? undefined : `${words.saving.undo}: ${describeCommand(undo)} (Ctrl+Z)`}
        onClick={session.undo}
      >
        {words.saving.undo}
      </button>
      <button
        type="button"
        disabled={redo === undefined}
        title={`${words.saving.redo} (Ctrl+Shift+Z)`}
        onClick={session.redo}
      >
        {words.saving.redo}
      </button>
      <span role="status" className={saving === 'unsaved' ? 'bad' : 'muted'}>
        {saving === 'unsaved' ? words.saving.unsaved(open.pending.length + asked) : words.saving[saving]}
      </span>
      {open.saving === 'unsaved' && (
        <button type="button" onClick={() => void session.retry()}>
          {words.retry}
        </button>
      )}
    </div>
  );
}

/** What happened to an edit, where it was not simply saved. */
export function SaveNotice({ session, open }: SaveBarProps) {
  const { notice, fault } = open;
  if (fault !== undefined) {
    return (
      <div className="notice error" role="alert">
        <p>{words.saving.fault(fault)}</p>
        <button type="button" onClick={() => void session.recompute()}>
          {words.retry}
        </button>
      </div>
    );
  }
  if (notice === undefined) return null;
  if (notice.kind === 'conflict') {
    return (
      <div className="notice warning" role="alert">
        <p>{describeConflict(notice)}</p>
        <button type="button" onClick={() => void session.resolve('mine')}>
          {words.saving.mine}
        </button>
        <button type="button" onClick={() => void session.resolve('theirs')}>
          {words.saving.theirs}
        </button>
      </div>
    );
  }
  const text =
    notice.kind === 'refused'
      ? words.saving.refused(notice.detail)
      : isReshaped(notice)
        ? words.saving.reshaped('')
        : words.saving.merged(describeCommands(notice.missed));
  return (
    <div className={`notice ${notice.kind === 'merged' ? '' : 'error'}`} role="alert">
      <p>{text}</p>
      <button type="button" onClick={session.dismiss}>
        {words.dismiss}
      </button>
    </div>
  );
}

function describeConflict(notice: Extract<DesignNotice, { kind: 'conflict' }>): string {
  const mine = describeCommands(notice.mine);
  return isReshaped(notice)
    ? words.saving.reshaped(mine)
    : words.saving.conflict(describeCommands(notice.missed), mine);
}

/** The network under the design became another one. */
function isReshaped({ missed }: Exclude<DesignNotice, { kind: 'refused' }>): boolean {
  return missed.some((entry) => entry.kind === 'carry');
}
