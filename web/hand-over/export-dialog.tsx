import './hand-over.css';
import { useState } from 'react';
import { findFileSpec, HAND_OVER_FORMATS } from '../../shared/wire/hand-over.ts';
import { EXPORTED_LAYERS, type ExportedLayer } from '../../shared/wire/layers.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { handOverWords as say } from '../hand-over-words.ts';
import { Dialog } from '../ui/dialog.tsx';
import { formatNumber } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { type Format, FormatChoice } from './format-choice.tsx';
import { LayerChoice } from './layer-choice.tsx';
import { TunnelChoiceBox } from './tunnel-choice-box.tsx';
import { usePreview } from './use-preview.ts';
import { useTunnelChoice } from './use-tunnel-choice.ts';

/** Choosing what is handed over, and in which format; the file is made by the server. */
export default function ExportDialog() {
  const { view, handOver } = useSessions();
  const survey = useOpenView();
  const close = () => {
    handOver.reset();
    view.patch({ isExportOpen: false });
  };
  if (survey === undefined) return null;
  return (
    <Dialog title={say.title(survey.name)} isOpen isWide onClose={close}>
      <Choices
        surveyId={survey.id}
        isOsm={survey.source?.objectUrl !== undefined}
        attribution={survey.source?.attribution}
      />
    </Dialog>
  );
}

type ChoicesProps = {
  readonly surveyId: string;
  readonly isOsm: boolean;
  readonly attribution: string | undefined;
};

function Choices({ surveyId, isOsm, attribution }: ChoicesProps) {
  const { view, handOver } = useSessions();
  const tunnels = useTunnelChoice();
  const [format, setFormat] = useState<Format>('zip');
  const [off, setOff] = useState<ReadonlySet<ExportedLayer>>(new Set());
  const { preview, problem, retry } = usePreview(surveyId, tunnels.ids);
  const { phase } = useStore(handOver);
  const held: readonly ExportedLayer[] = format === 'report' ? [] : HAND_OVER_FORMATS[format].layers;
  const layers = held.filter((layer) => !off.has(layer));
  const count = tunnels.ids?.length ?? tunnels.all.length;
  const features = layers.reduce((sum, layer) => sum + (preview?.layers[layer] ?? 0), 0);
  const lack =
    count === 0 ? say.tunnels.none : format !== 'report' && layers.length === 0 ? say.layers.none : undefined;
  const isEmpty = format !== 'report' && preview !== undefined && features === 0;
  const forget = () => {
    if (phase !== 'working') handOver.reset();
  };
  const start = () => {
    const { ids } = tunnels;
    if (format === 'report') view.openReport(ids);
    else
      void handOver.start(surveyId, {
        format,
        layers: [...layers],
        ...(ids === undefined ? {} : { tunnels: [...ids] }),
      });
  };
  const file =
    format === 'report' ? '' : `${preview?.name ?? 'survey'}.${findFileSpec(format, layers).extension}`;
  return (
    <form
      className="dialog-body hand-over"
      onChange={forget}
      onSubmit={(event) => {
        event.preventDefault();
        start();
      }}
    >
      <div className="hand-over-choices">
        <FormatChoice format={format} onFormat={setFormat} />
        <div className="hand-over-what">
          <TunnelChoiceBox choice={tunnels} />
          {format === 'report' ? (
            <p className="muted">{say.layers.report}</p>
          ) : (
            <LayerChoice
              format={format}
              off={off}
              counts={preview?.layers}
              onOff={(layer, isOff) =>
                setOff(new Set(EXPORTED_LAYERS.filter((one) => (one === layer ? isOff : off.has(one)))))
              }
            />
          )}
        </div>
      </div>
      {problem !== undefined && (
        <ProblemNote title={say.layers.notCounted} problem={problem} onRetry={retry} />
      )}
      <p role="status">
        {lack ??
          (format === 'report'
            ? say.resultReport(count)
            : preview === undefined
              ? say.layers.counting
              : isEmpty
                ? say.resultEmpty
                : say.result(file, preview.tunnels, features))}
      </p>
      <p className="muted">{isOsm ? say.licence : attribution}</p>
      <Outcome />
      <div className="hand-over-actions">
        {phase === 'working' ? (
          <button type="button" onClick={() => handOver.cancel()}>
            {words.cancel}
          </button>
        ) : (
          <button type="submit" className="primary" disabled={lack !== undefined || isEmpty}>
            {format === 'report' ? say.openReport : say.start}
          </button>
        )}
      </div>
    </form>
  );
}

/** How far the file is, or what became of it. */
function Outcome() {
  const { handOver } = useSessions();
  const { phase, bytes, fileName, problem } = useStore(handOver);
  if (phase === 'idle') return null;
  if (phase === 'failed') {
    return (
      <div className="notice error" role="alert">
        <p>
          {say.failed} {problem?.detail}
        </p>
      </div>
    );
  }
  return (
    <div className="notice" role="status">
      {phase === 'working' && (
        <>
          <progress aria-label={say.working} />
          <p>
            {say.working} {bytes > 0 && say.received(formatNumber(bytes / 1e6, 1))}
          </p>
        </>
      )}
      {phase === 'done' && <p>{say.done(fileName ?? '')}</p>}
      {phase === 'cancelled' && <p>{say.cancelled}</p>}
    </div>
  );
}
