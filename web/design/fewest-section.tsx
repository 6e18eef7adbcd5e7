import './fewest.css';
import { useRef } from 'react';
import type { Fewest } from '../../shared/placement/fewest/lay-fewest.ts';
import type { CoverageGap } from '../../shared/placement/fewest/question.ts';
import type { Solved } from '../../shared/placement/fewest/solve-fewest.ts';
import { fewestWords as say } from '../fewest-words.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatChainage } from '../ui/format.ts';
import { ChoiceControl } from './choice-control.tsx';
import { useSolving } from './use-solving.ts';

/** How long the browser looks for a proof, seconds (project default). */
const TIME_LIMIT_S = 60;

type FewestSectionProps = { readonly session: DesignSession; readonly open: OpenDesign };

/** How the beacons are laid; for the fewest, what is proven of them and the search for the proof. */
export function FewestSection({ session, open }: FewestSectionProps) {
  const { scheme, surveyRules } = open;
  const method = scheme.rules.method ?? surveyRules.method;
  const isDesigned = (open.shown?.design.beacons.length ?? 0) > 0;
  return (
    <>
      <ChoiceControl
        rule="method"
        value={method}
        survey={{
          value: surveyRules.method,
          isOwn: scheme.rules.method !== undefined,
          onReset: () => session.commit({ kind: 'setRule', rule: 'method', value: null }),
        }}
        onChoose={(value) => session.commit({ kind: 'setRule', rule: 'method', value })}
      />
      {method === 'fewest' && isDesigned && <FewestAnswer session={session} open={open} />}
    </>
  );
}

function FewestAnswer({ session, open }: FewestSectionProps) {
  const section = useRef<HTMLElement>(null);
  const design = open.shown?.design;
  if (design?.fewest === undefined) return null;
  const { fewest, beacons } = design;
  return (
    <section ref={section} tabIndex={-1} className="fewest" aria-label={say.title}>
      <p role="status" data-testid="fewest">
        {describe(fewest, beacons.length)}
      </p>
      <Search
        session={session}
        open={open}
        fewest={fewest}
        count={beacons.length}
        onPressed={() => section.current?.focus({ preventScroll: true })}
      />
      {fewest.gaps.length > 0 && <Gaps gaps={fewest.gaps} />}
    </section>
  );
}

type SearchProps = FewestSectionProps & {
  readonly fewest: Fewest;
  readonly count: number;
  /** A button was pressed that goes away by that: the focus must not go with it. */
  readonly onPressed: () => void;
};

function Search({ session, open, fewest, count, onPressed }: SearchProps) {
  const { network, surveyRules, scheme } = open;
  const { state, start, cancel } = useSolving();
  if (state.status === 'running') {
    return (
      <p className="fewest-search">
        <span>{say.running(state.seconds)}</span>
        <button
          type="button"
          onClick={() => {
            onPressed();
            cancel();
          }}
        >
          {say.cancel}
        </button>
      </p>
    );
  }
  if (state.status === 'done' && isNews(state.solved, fewest, count)) {
    const { solution, isProven } = state.solved;
    const found = solution.places.length;
    return (
      <p className="fewest-search">
        <span role="status">
          {isProven ? say.foundProven(found) : say.foundBounded(found, solution.bound)}
        </span>
        <button
          type="button"
          onClick={() => {
            onPressed();
            session.commit({ kind: 'acceptSolution', solution });
          }}
        >
          {say.use(found)}
        </button>
      </p>
    );
  }
  return (
    <>
      {fewest.bound !== count && (
        <button
          type="button"
          onClick={() => {
            onPressed();
            start({ network, surveyRules, scheme, timeLimitS: TIME_LIMIT_S });
          }}
        >
          {fewest.method === 'sweep' ? say.prove : say.longer}
        </button>
      )}
      {state.status === 'failed' && (
        <p className="notice error" role="alert">
          {say.failed(state.reason)}
        </p>
      )}
    </>
  );
}

/** Whether an answer is one to the question as it is now, and says more than is known. */
function isNews({ solution }: Solved, { key, method, bound = 0 }: Fewest, count: number): boolean {
  if (solution.key !== key) return false;
  return method === 'sweep' || solution.places.length < count || solution.bound > bound;
}

function describe({ method, bound }: Fewest, count: number): string {
  if (method === 'sweep' || bound === undefined) return say.swept(count);
  return bound === count ? say.proven(count) : say.bounded(count, bound);
}

function Gaps({ gaps }: { readonly gaps: readonly CoverageGap[] }) {
  return (
    <details>
      <summary>{say.gaps(gaps.length)}</summary>
      <ul>
        {gaps.map(({ kind, linkId, chainageM, need, found }) => (
          <li key={`${kind} ${linkId} ${chainageM}`}>
            {say.gap[kind](formatChainage(chainageM), found, need)}
          </li>
        ))}
      </ul>
    </details>
  );
}
