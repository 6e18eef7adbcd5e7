import { type DragEvent, useState } from 'react';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { useRights } from '../app/use-rights.ts';
import { rankingWords } from '../ranking-words.ts';
import type { Answer, ApiProblem, EvidenceKind } from '../session/api.ts';
import { ExpectedColumns } from './expected-columns.tsx';
import { MatchReport } from './match-report.tsx';
import { MatchedTunnels } from './matched-tunnels.tsx';

const say = rankingWords.evidence;

type EvidenceSectionProps = { readonly kind: EvidenceKind; readonly survey: SurveyView };

/** One kind of evidence: bring, replace, remove, and what matched. */
export function EvidenceSection({ kind, survey }: EvidenceSectionProps) {
  const { api, surveys } = useSessions();
  const { mayEdit } = useRights();
  const [working, setWorking] = useState<string>();
  const [problem, setProblem] = useState<ApiProblem>();
  const own = say[kind];
  const name = survey.evidence?.[kind]?.name;
  const run = async (what: string, asked: Promise<Answer<SurveyView>>) => {
    setWorking(what);
    setProblem(undefined);
    const answer = await asked;
    if (answer.ok) await surveys.accept(answer.value);
    else setProblem(answer.problem);
    setWorking(undefined);
  };
  const bring = (file: File) => void run(say.sending(file.name), api.bringEvidence(survey.id, kind, file));
  const drop = (event: DragEvent) => {
    const file = event.dataTransfer.files[0];
    event.preventDefault();
    if (file !== undefined && working === undefined && mayEdit) bring(file);
  };
  return (
    <section
      className="evidence-kind"
      aria-label={own.title}
      onDrop={drop}
      onDragOver={(event) => event.preventDefault()}
    >
      <h3>{own.title}</h3>
      <p className="muted">{own.note}</p>
      <div className="evidence-file">
        {name === undefined ? (
          <span className="muted">{say.none}</span>
        ) : (
          <span>
            <strong>{name}</strong> {describeMatch(survey, kind)}
          </span>
        )}
        {mayEdit && (
          <>
            <Choice
              kind={kind}
              label={name === undefined ? say.choose : say.replace}
              isPrimary={name === undefined}
              isDisabled={working !== undefined}
              onChosen={bring}
            />
            {name === undefined ? (
              <span className="muted">{say.dropHere}</span>
            ) : (
              <button
                type="button"
                disabled={working !== undefined}
                aria-label={say.removeLong(own.title.toLowerCase())}
                onClick={() => void run(say.removing, api.removeEvidence(survey.id, kind))}
              >
                {say.remove}
              </button>
            )}
          </>
        )}
      </div>
      {working !== undefined && (
        <p className="evidence-working" role="status">
          {working}
          <progress aria-label={working} />
        </p>
      )}
      {problem !== undefined && (
        <p className="notice error" role="alert">
          {say.failed} {problem.detail}
        </p>
      )}
      {name !== undefined && (
        <>
          <MatchedTunnels kind={kind} />
          <MatchReport kind={kind} survey={survey} />
        </>
      )}
      {mayEdit && <ExpectedColumns kind={kind} isOpen={name === undefined} />}
    </section>
  );
}

type ChoiceProps = {
  readonly kind: EvidenceKind;
  readonly label: string;
  readonly isPrimary: boolean;
  readonly isDisabled: boolean;
  readonly onChosen: (file: File) => void;
};

function Choice({ kind, label, isPrimary, isDisabled, onChosen }: ChoiceProps) {
  return (
    <label className={`button evidence-choice ${isPrimary ? 'primary-label' : ''}`}>
      {label}
      <input
        type="file"
        className="hidden-from-sight"
        aria-label={`${say[kind].title}: ${label}`}
        accept={say[kind].accept}
        disabled={isDisabled}
        onChange={({ target }) => {
          const file = target.files?.[0];
          // The same file may be chosen again after it was mended.
          target.value = '';
          if (file !== undefined) onChosen(file);
        }}
      />
    </label>
  );
}

function describeMatch({ evidence }: SurveyView, kind: EvidenceKind): string {
  const { traffic, existing } = evidence ?? {};
  if (kind === 'traffic' && traffic !== undefined) {
    return say.traffic.matched(traffic.matched, traffic.rows, traffic.notes);
  }
  return existing === undefined ? '' : say.existing.matched(existing.matched, existing.items, existing.notes);
}
