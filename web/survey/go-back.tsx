import { useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import { historyWords } from '../history-words.ts';
import type { ApiProblem } from '../session/api.ts';
import { useStore } from '../ui/use-store.ts';

type GoBackProps = { readonly surveyId: string; readonly revision: number };

/** Going back to a revision: asked for, said yes to, done. */
export function GoBack({ surveyId, revision }: GoBackProps) {
  const { editor } = useSessions();
  const { isWorking } = useStore(editor);
  const [isAsked, setIsAsked] = useState(false);
  const [problem, setProblem] = useState<ApiProblem>();
  const go = async () => {
    const found = await editor.goBack(surveyId, revision, historyWords.done(revision));
    setIsAsked(false);
    setProblem(found === 'busy' ? undefined : found);
  };
  if (!isAsked) {
    return (
      <>
        <button
          type="button"
          className="quiet"
          aria-label={historyWords.goBackNamed(revision)}
          disabled={isWorking}
          onClick={() => setIsAsked(true)}
        >
          {historyWords.goBack}
        </button>
        {problem !== undefined && (
          <p role="alert">
            {historyWords.notDone} {problem.detail}
          </p>
        )}
      </>
    );
  }
  return (
    <fieldset className="history-ask" disabled={isWorking}>
      <legend className="hidden-from-sight">{historyWords.goBackNamed(revision)}</legend>
      <p>{isWorking ? historyWords.working : historyWords.ask(revision)}</p>
      <button type="button" className="primary" onClick={() => void go()}>
        {historyWords.yes}
      </button>
      <button type="button" onClick={() => setIsAsked(false)}>
        {historyWords.no}
      </button>
    </fieldset>
  );
}
