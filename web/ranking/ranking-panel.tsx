import './ranking.css';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { rankingWords as words } from '../ranking-words.ts';
import { SurveyTabs } from '../survey/survey-tabs.tsx';
import { formatNumber } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { CostSection } from './cost-section.tsx';
import { FactorSection } from './factor-section.tsx';
import { FilterSection } from './filter-section.tsx';
import { toRankingRequest } from './kept-inputs.ts';
import { LeftOutTable } from './left-out-table.tsx';
import { PrintSource } from './print-source.tsx';
import { RankingTable } from './ranking-table.tsx';
import { useRanking } from './use-ranking.ts';

const say = words.ranking;

/** Which tunnel first: what the order is made of, all of it editable, and the tunnels in their order. */
export function RankingPanel() {
  const survey = useOpenView();
  return (
    <>
      <SurveyTabs />
      {survey === undefined ? (
        <p className="empty muted" role="status">
          {say.computing}
        </p>
      ) : (
        <Ranking key={survey.id} survey={survey} />
      )}
    </>
  );
}

function Ranking({ survey }: { readonly survey: SurveyView }) {
  const { inputs: kept } = useSessions();
  const store = kept.of(survey.id);
  const inputs = useStore(store);
  const { ranking, problem, isAsking, retry } = useRanking(
    survey.id,
    survey.revision,
    toRankingRequest(inputs),
  );
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <section className="ranking" aria-label={say.title} tabIndex={0}>
      <div className="ranking-head">
        <h2>{say.title}</h2>
        <span className="muted" role="status">
          {isAsking && ranking !== undefined ? say.recomputing : ''}
        </span>
        <button type="button" onClick={() => window.print()}>
          {words.print}
        </button>
      </div>
      {ranking !== undefined && <p className="muted">{say.intro(formatNumber(ranking.satnavShare * 100))}</p>}
      <CostSection store={store} />
      <FactorSection store={store} />
      <FilterSection store={store} />
      {problem !== undefined && ranking !== undefined && (
        <p className="notice error" role="alert">
          {say.refused} {problem.detail}
        </p>
      )}
      {ranking === undefined ? (
        problem === undefined ? (
          <div className="empty" role="status">
            <p className="muted">{say.computing}</p>
            <progress aria-label={say.computing} />
          </div>
        ) : (
          <ProblemNote title={say.failed} problem={problem} onRetry={retry} />
        )
      ) : ranking.rows.length + ranking.leftOut.length === 0 ? (
        <p className="empty">{say.none}</p>
      ) : (
        <>
          {ranking.rows.length === 0 ? (
            <p className="empty">{say.allLeftOut}</p>
          ) : (
            <RankingTable rows={ranking.rows} store={store} />
          )}
          <LeftOutTable leftOut={ranking.leftOut} store={store} />
        </>
      )}
      <p className="muted caution">{words.caution}</p>
      <PrintSource survey={survey} />
    </section>
  );
}
