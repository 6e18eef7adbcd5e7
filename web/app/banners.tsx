import { useEffect, useRef, useState } from 'react';
import { accountWords } from '../account-words.ts';
import { describeShareProblem } from '../accounts/sign-in-page.tsx';
import type { DoneEdit } from '../session/survey-editor.ts';
import { formatDate } from '../ui/format.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { useSessions } from './sessions.ts';
import { useOpenView } from './use-open-view.ts';

/**
 * What concerns the whole page: the server is away, edits of tunnels that are not open wait to be saved, what was
 * done to the survey, a newer extract that waits.
 */
export function Banners() {
  const { connection, designs, surveys } = useSessions();
  const { isDown } = useStore(connection);
  const { parkedCount } = useStore(designs);
  const { open } = useStore(surveys);
  const context = open?.status === 'ready' ? open.value.later.context : undefined;
  return (
    <>
      {isDown && (
        <div className="notice error" role="alert">
          <p>{words.server.down}</p>
          <button type="button" onClick={() => void connection.retry()}>
            {words.retry}
          </button>
        </div>
      )}
      {parkedCount > 0 && (
        <div className="notice warning" role="alert">
          <p>{words.saving.parked(parkedCount)}</p>
          <button type="button" onClick={() => void designs.retryAll()}>
            {words.retry}
          </button>
        </div>
      )}
      <SessionNotices />
      <DoneNotice />
      <CandidateNotice />
      {context?.status === 'failed' && !isDown && (
        <div className="notice warning" role="alert">
          <p>
            {words.map.background} {context.problem.detail}
          </p>
          <button type="button" onClick={() => surveys.want('context')}>
            {words.retry}
          </button>
        </div>
      )}
    </>
  );
}

/** The session has ended and the form was put aside; or a link did not open, for somebody who is signed in. */
function SessionNotices() {
  const { who } = useSessions();
  const { isEnded, asksSignIn, shareProblem } = useStore(who);
  return (
    <>
      {isEnded && !asksSignIn && (
        <div className="notice warning" role="alert">
          <p>{accountWords.ended.banner}</p>
          <button type="button" onClick={() => who.askSignIn(true)}>
            {accountWords.signIn.action}
          </button>
        </div>
      )}
      {shareProblem !== undefined && (
        <div className="notice error" role="alert">
          <p>{describeShareProblem(shareProblem)}</p>
          <button type="button" onClick={who.dismissShareProblem}>
            {words.dismiss}
          </button>
        </div>
      )}
    </>
  );
}

/** What was done to the survey just now, with a way back. */
function DoneNotice() {
  const { editor, view } = useSessions();
  const { done, isWorking } = useStore(editor);
  const { address } = useStore(view);
  const told = useRef({ done, address });
  if (told.current.done !== done) told.current = { done, address };
  // Whoever goes on to something else has read it.
  const { tunnel, panel } = told.current.address;
  const isOver =
    (address.tunnel !== undefined && address.tunnel !== tunnel) ||
    (address.panel !== undefined && address.panel !== panel);
  useEffect(() => {
    if (isOver) editor.dismiss();
  }, [editor, isOver]);
  const survey = useOpenView();
  const [failure, setFailure] = useState<{ readonly done: DoneEdit; readonly detail: string }>();
  if (done === undefined || done.surveyId !== survey?.id) return null;
  const { surveyId, undoId } = done;
  const undo = async (revertedId: string) => {
    setFailure(undefined);
    const said = await editor.edit(surveyId, { kind: 'revert', revertedId }, words.grouping.undone);
    if (said !== undefined && said !== 'busy') setFailure({ done, detail: said.detail });
  };
  const problem = failure?.done === done ? failure.detail : undefined;
  return (
    <div className={`notice ${problem === undefined ? '' : 'error'}`} role="status">
      <p>{problem ?? done.says}</p>
      {undoId !== undefined && (
        <button type="button" disabled={isWorking} onClick={() => void undo(undoId)}>
          {words.grouping.undo}
        </button>
      )}
      <button type="button" onClick={editor.dismiss}>
        {words.dismiss}
      </button>
    </div>
  );
}

/** A newer extract waits for the open survey. */
function CandidateNotice() {
  const { view } = useSessions();
  const { address, laterExtract } = useStore(view);
  const survey = useOpenView();
  const candidate = survey?.candidate;
  if (candidate === undefined || address.panel === 'changes' || candidate.extractId === laterExtract) {
    return null;
  }
  const date = candidate.timestamp === undefined ? undefined : formatDate(candidate.timestamp);
  return (
    <div className="notice" role="status">
      <p>{words.update.waits(candidate.name, date)}</p>
      <button type="button" onClick={() => view.openPanel('changes')}>
        {words.update.look}
      </button>
      <button type="button" onClick={() => view.patch({ laterExtract: candidate.extractId })}>
        {words.update.later}
      </button>
    </div>
  );
}
