import './ranking.css';
import { useEffect, useState } from 'react';
import { PROGRAMME_FIELDS } from '../../shared/ranking/programme.ts';
import type { ProgrammeRequest } from '../../shared/wire/ranking.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';
import type { PlanLimits } from '../app/plan-address.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { rankingWords as words } from '../ranking-words.ts';
import type { Store } from '../session/make-store.ts';
import { SurveyTabs } from '../survey/survey-tabs.tsx';
import { NumberField } from '../ui/number-field.tsx';
import { useStore } from '../ui/use-store.ts';
import { CostSection } from './cost-section.tsx';
import { type Inputs, toProgrammeRequest } from './kept-inputs.ts';
import { PrintSource } from './print-source.tsx';
import { ProgrammeAnswer } from './programme-answer.tsx';
import { ProgrammeProgress } from './programme-progress.tsx';

const say = words.programme;

/** Which tunnels in which year: limits in, a plan out. */
export function ProgrammePanel() {
  const survey = useOpenView();
  return (
    <>
      <SurveyTabs />
      {survey !== undefined && <Programme key={survey.id} survey={survey} />}
    </>
  );
}

function Programme({ survey }: { readonly survey: SurveyView }) {
  const { inputs: kept, programme } = useSessions();
  const store = kept.of(survey.id);
  const inputs = useStore(store);
  const state = useStore(programme);
  const isOwn = state.surveyId === survey.id;
  const request = toProgrammeRequest(inputs);
  const planned = isOwn ? state.planned : undefined;
  const problem = isOwn ? state.problem : undefined;
  const isAsking = isOwn && state.asking !== undefined;
  const plan = (changed: Inputs) => void programme.start(survey.id, toProgrammeRequest(changed));
  const planWith = (budgetPerYear: number) => {
    store.patch({ budgetPerYear });
    plan({ ...inputs, budgetPerYear });
  };
  useSentPlan(planned?.request, (limits) => {
    store.patch(limits);
    plan({ ...inputs, ...limits });
  });
  const isStale =
    planned !== undefined &&
    (JSON.stringify(planned.request) !== JSON.stringify(request) ||
      planned.answer.revision !== survey.revision);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <section className="ranking" aria-label={say.title} tabIndex={0}>
      <div className="ranking-head">
        <h2>{say.title}</h2>
        <button type="button" onClick={() => window.print()}>
          {words.print}
        </button>
      </div>
      <p className="muted">{say.intro}</p>
      <Limits store={store} />
      <CostSection store={store} />
      {isAsking ? (
        <ProgrammeProgress onCancel={programme.cancel} />
      ) : (
        <div className="plan-action">
          <button type="button" className="primary" onClick={() => plan(inputs)}>
            {say.plan}
          </button>
          <span role="status" className="muted">
            {isStale ? say.stale : isOwn && state.isCancelled ? say.cancelled : ''}
          </span>
        </div>
      )}
      {problem !== undefined && (
        <p className="notice error" role="alert">
          {say.failed} {problem.detail}
        </p>
      )}
      {planned === undefined ? (
        !isAsking && problem === undefined && <p className="muted">{say.none}</p>
      ) : (
        <div className={isStale ? 'is-stale' : ''}>
          <ProgrammeAnswer answer={planned.answer} onBudget={planWith} />
        </div>
      )}
      <p className="muted caution">{words.caution}</p>
      <PrintSource survey={survey} />
    </section>
  );
}

/** Keeps the plan that is shown in the address; one that came with the address is planned once. */
function useSentPlan(shown: ProgrammeRequest | undefined, onSent: (limits: PlanLimits) => void): void {
  const { view } = useSessions();
  const [sent] = useState(() => (shown === undefined ? view.get().address.plan : undefined));
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, as it was sent
  useEffect(() => {
    if (sent !== undefined) onSent(sent);
  }, [sent]);
  useEffect(() => {
    if (shown === undefined) return;
    const { years, budgetPerYear, nightsPerYear } = shown;
    view.showPlan({ years, budgetPerYear, nightsPerYear });
  }, [shown, view]);
}

/** Years, money, nights and crews. */
function Limits({ store }: { readonly store: Store<Inputs> }) {
  const inputs = useStore(store);
  const { years, budgetPerYear, nightsPerYear, crews } = PROGRAMME_FIELDS;
  const field = (name: 'years' | 'budgetPerYear' | 'nightsPerYear', isWhole: boolean) => {
    const spec = { years, budgetPerYear, nightsPerYear }[name];
    return (
      <NumberField
        label={spec.label}
        meaning={spec.meaning}
        spec={spec}
        isWhole={isWhole}
        value={inputs[name]}
        onCommit={(value = spec.fallback) => store.patch({ [name]: value })}
      />
    );
  };
  return (
    <div className="fields">
      {field('years', true)}
      {field('budgetPerYear', false)}
      {field('nightsPerYear', true)}
      <NumberField
        label={crews.label}
        meaning={crews.meaning}
        spec={crews}
        isWhole
        value={inputs.crews ?? crews.fallback}
        onCommit={(value = crews.fallback) => store.patch({ crews: value })}
      />
    </div>
  );
}
