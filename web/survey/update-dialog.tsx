import type { SurveyView } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import type { Answer } from '../session/api.ts';
import { Dialog } from '../ui/dialog.tsx';
import { formatDate } from '../ui/format.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { FileChoice } from './file-choice.tsx';
import { UpdateStatus } from './import-status.tsx';

/** A newer extract for the open survey: a file, or the same area asked again; compared, not yet adopted. */
export function UpdateDialog() {
  const { api, updates, view } = useSessions();
  const { isUpdateOpen } = useStore(view);
  const { phase } = useStore(updates);
  const survey = useOpenView();
  const close = () => view.patch({ isUpdateOpen: false });
  if (survey === undefined) return null;
  const { id, source, candidate } = survey;
  const start = (name: string, started: Promise<Answer<SurveyView>>) => {
    close();
    void updates.start(name, started);
  };
  const isBusy = phase === 'sending' || phase === 'working';
  return (
    <Dialog title={words.update.title(survey.name)} isOpen={isUpdateOpen} onClose={close}>
      <div className="dialog-body">
        <p>{words.update.intro}</p>
        {source !== undefined && (
          <p className="muted">{words.update.now(source.name, dateOf(source.timestamp))}</p>
        )}
        {candidate !== undefined && (
          <div className="notice">
            <p>
              {words.update.waits(candidate.name, dateOf(candidate.timestamp))} {words.update.replaces}
            </p>
            <button
              type="button"
              onClick={() => {
                close();
                view.openPanel('changes');
              }}
            >
              {words.update.look}
            </button>
          </div>
        )}
        {isBusy ? (
          <UpdateStatus />
        ) : (
          <>
            <FileChoice onChosen={(file) => start(file.name, api.uploadCandidate(id, file))} />
            {source?.area !== undefined && (
              <p>
                {words.update.or}{' '}
                <button type="button" onClick={() => start(words.update.asked, api.askCandidate(id))}>
                  {words.update.again}
                </button>
              </p>
            )}
          </>
        )}
      </div>
    </Dialog>
  );
}

function dateOf(timestamp: string | undefined): string | undefined {
  return timestamp === undefined ? undefined : formatDate(timestamp);
}
