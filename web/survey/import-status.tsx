import { useSessions } from '../app/sessions.ts';
import { useRights } from '../app/use-rights.ts';
import type { ImportSession } from '../session/import-session.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';

/** How an import stands, whatever else is on the screen: progress with its stage, or why it was refused. */
export function ImportStatus() {
  const { imports, view } = useSessions();
  const state = useStore(imports);
  if (state.phase === 'ready') {
    const { name, counts } = state.survey;
    return (
      <div className="notice" role="status">
        <p>
          {words.import.ready(name)}: {words.header.tunnels(counts?.complexes ?? 0)},{' '}
          {words.table.beacons(counts?.beacons ?? 0)}.
        </p>
        <button type="button" onClick={imports.dismiss}>
          {words.dismiss}
        </button>
      </div>
    );
  }
  return (
    <Unfinished
      session={imports}
      say={words.import}
      onAnother={() => view.patch({ isImportOpen: true })}
      onUpload={(file) => void imports.startFile(file)}
    />
  );
}

/** The same for a newer extract of a survey; where that survey is not open, it says that it is ready. */
export function UpdateStatus() {
  const { surveys, updates, view } = useSessions();
  const state = useStore(updates);
  const { address } = useStore(view);
  if (state.phase !== 'ready') {
    const again = () => view.patch({ isUpdateOpen: true });
    return <Unfinished session={updates} say={words.update} onAnother={again} />;
  }
  const { forSurvey } = state.survey;
  const survey = forSurvey === undefined ? undefined : surveys.find(forSurvey);
  // The open survey has a banner of its own.
  if (survey === undefined || survey.id === address.survey) return null;
  return (
    <div className="notice" role="status">
      <p>{words.update.ready(survey.name)}</p>
      <button
        type="button"
        onClick={() => {
          updates.dismiss();
          view.openSurvey(survey.id);
          view.openPanel('changes');
        }}
      >
        {words.update.look}
      </button>
      <button type="button" onClick={updates.dismiss}>
        {words.dismiss}
      </button>
    </div>
  );
}

/** How far the simulated drives are that what is on the screen waits for. */
export function DrivesStatus() {
  const { drives, surveys } = useSessions();
  const { mayEdit } = useRights();
  const { surveyId, done, total } = useStore(drives);
  if (surveyId === undefined) return null;
  const title = words.drives.working(surveys.find(surveyId)?.name ?? surveyId);
  return (
    <div className="notice import-progress">
      <p role="status">
        {title}: {words.drives.soFar(done, total)}
      </p>
      <progress aria-label={title} max={total} value={done} />
      {mayEdit && (
        <button type="button" onClick={() => void drives.cancel()}>
          {words.cancel}
        </button>
      )}
    </div>
  );
}

type UnfinishedProps = {
  readonly session: ImportSession;
  readonly say: Record<'sending' | 'working' | 'refused', (name: string) => string>;
  readonly onAnother: () => void;
  /** A file instead of an area that the map server refused. */
  readonly onUpload?: (file: File) => void;
};

function Unfinished({ session, say, onAnother, onUpload }: UnfinishedProps) {
  const { mayEdit } = useRights();
  const state = useStore(session);
  if (state.phase === 'idle' || state.phase === 'ready') return null;
  if (state.phase === 'refused') {
    const isOfArea = onUpload !== undefined && /^(overpass|area)-/.test(state.code ?? '');
    return (
      <div className="notice error" role="alert">
        <p>
          <strong>{say.refused(state.name)}.</strong> {state.detail}
          {isOfArea && ` ${words.import.uploadHint}`}
        </p>
        {mayEdit && isOfArea && (
          <label className="button">
            {words.import.upload}
            <input
              type="file"
              className="hidden-from-sight"
              onChange={({ target }) => {
                const file = target.files?.[0];
                if (file !== undefined) onUpload?.(file);
              }}
            />
          </label>
        )}
        {mayEdit && (
          <button
            type="button"
            onClick={() => {
              session.dismiss();
              onAnother();
            }}
          >
            {words.import.another}
          </button>
        )}
        <button type="button" onClick={session.dismiss}>
          {words.dismiss}
        </button>
      </div>
    );
  }
  const progress = state.phase === 'working' ? state.progress : undefined;
  const stage = progress === undefined ? undefined : words.import.stages[progress.stage];
  const title = state.phase === 'sending' ? say.sending(state.name) : say.working(state.name);
  return (
    <div className="notice import-progress">
      <p role="status">
        {title}
        {stage === undefined ? '' : `: ${stage}`}
        {progress?.note === undefined ? '' : ` (${progress.note})`}
      </p>
      <progress aria-label={title} max={progress?.total ?? 1} {...toBarValue(progress)} />
      {mayEdit && (
        <button type="button" onClick={() => void session.cancel()}>
          {words.cancel}
        </button>
      )}
    </div>
  );
}

/** Without a total the bar only shows that something is going on. */
function toBarValue(progress: { readonly done: number; readonly total?: number | undefined } | undefined) {
  return progress?.total === undefined || progress.total === 0 ? {} : { value: progress.done };
}
