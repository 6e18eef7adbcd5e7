import './ranking.css';
import { useState } from 'react';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { rankingWords } from '../ranking-words.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { toRankingRequest } from './kept-inputs.ts';
import { RankWorking } from './rank-working.tsx';
import { useRanking } from './use-ranking.ts';

const say = rankingWords.ranking;

/** How one tunnel's rank came about; the survey is ranked only when this is opened. */
export function RankSection({ id }: { readonly id: string }) {
  const survey = useOpenView();
  const [isOpen, setIsOpen] = useState(false);
  return (
    <details
      className="rank-section"
      data-testid="rank-section"
      open={isOpen}
      onToggle={(event) => setIsOpen(event.currentTarget.open)}
    >
      <summary>{say.chart.title}</summary>
      {isOpen && survey !== undefined && <Rank id={id} survey={survey} />}
    </details>
  );
}

function Rank({ id, survey }: { readonly id: string; readonly survey: SurveyView }) {
  const { inputs, view } = useSessions();
  const set = useStore(inputs.of(survey.id));
  const request = toRankingRequest(set);
  const isOwn = Object.keys(set.costs).length + set.factors.length + set.filters.length > 0;
  const { ranking, problem, retry } = useRanking(survey.id, survey.revision, request);
  if (ranking === undefined && problem !== undefined)
    return <ProblemNote title={say.failed} problem={problem} onRetry={retry} />;
  if (ranking === undefined)
    return (
      <p className="muted" role="status">
        {say.computing}
      </p>
    );
  const row = ranking.rows.find((one) => one.id === id);
  const isLeftOut = ranking.leftOut.some((one) => one.id === id);
  return (
    <>
      {isOwn && <p className="muted">{say.chart.own}</p>}
      {row === undefined ? (
        <p>{isLeftOut ? say.chart.leftOut : rankingWords.table.notRanked}</p>
      ) : (
        <RankWorking row={row} />
      )}
      <p>
        <button type="button" onClick={() => view.openPanel('ranking')}>
          {say.chart.toRanking}
        </button>{' '}
        <button type="button" onClick={() => view.openPanel('programme')}>
          {say.chart.toProgramme}
        </button>
      </p>
    </>
  );
}
