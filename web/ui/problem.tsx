import type { ApiProblem } from '../session/api.ts';
import { words } from '../words.ts';

type ProblemProps = { readonly title: string; readonly problem: ApiProblem; readonly onRetry: () => void };

/** Something could not be loaded: what, why, and a way to try again. */
export function ProblemNote({ title, problem, onRetry }: ProblemProps) {
  return (
    <div className="empty" role="alert">
      <p>
        {title} {problem.detail}
      </p>
      <button type="button" onClick={onRetry}>
        {words.retry}
      </button>
    </div>
  );
}
