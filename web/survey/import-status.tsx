import { useSessions } from '../app/sessions.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';

/** How the import stands, whatever else is on the screen: progress with its stage, or why it was refused. */
export function ImportStatus() {
  const { imports, view } = useSessions();
  const state = useStore(imports);
  if (state.phase === 'idle') return null;
  if (state.phase === 'ready') {
    return (
      <div className="notice" role="status">
        <p>
          {words.import.ready(state.survey.name)}: {words.header.tunnels(state.survey.counts?.complexes ?? 0)}
          , {words.table.beacons(state.survey.counts?.beacons ?? 0)}.
        </p>
        <button type="button" onClick={imports.dismiss}>
          {words.dismiss}
        </button>
      </div>
    );
  }
  if (state.phase === 'refused') {
    return (
      <div className="notice error" role="alert">
        <p>
          <strong>{words.import.refused(state.name)}.</strong> {state.detail}
        </p>
        <button
          type="button"
          onClick={() => {
            imports.dismiss();
            view.patch({ isImportOpen: true });
          }}
        >
          {words.import.another}
        </button>
        <button type="button" onClick={imports.dismiss}>
          {words.dismiss}
        </button>
      </div>
    );
  }
  const progress = state.phase === 'working' ? state.progress : undefined;
  const stage = progress === undefined ? undefined : words.import.stages[progress.stage];
  const title =
    state.phase === 'sending' ? words.import.sending(state.name) : words.import.working(state.name);
  return (
    <div className="notice import-progress">
      <p role="status">
        {title}
        {stage === undefined ? '' : `: ${stage}`}
        {progress?.note === undefined ? '' : ` (${progress.note})`}
      </p>
      <progress aria-label={title} max={progress?.total ?? 1} {...toBarValue(progress)} />
      <button type="button" onClick={() => void imports.cancel()}>
        {words.cancel}
      </button>
    </div>
  );
}

/** Without a total the bar only shows that something is going on. */
function toBarValue(progress: { readonly done: number; readonly total?: number | undefined } | undefined) {
  return progress?.total === undefined || progress.total === 0 ? {} : { value: progress.done };
}
