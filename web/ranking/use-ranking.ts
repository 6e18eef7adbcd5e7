import { useEffect, useState } from 'react';
import type { RankingRequest, RankingView } from '../../shared/wire/ranking.ts';
import { useSessions } from '../app/sessions.ts';
import type { ApiProblem } from '../session/api.ts';

export type RankingState = {
  /** The last answer; an older one while another is asked for. */
  readonly ranking: RankingView | undefined;
  readonly problem: ApiProblem | undefined;
  readonly isAsking: boolean;
};

/** Several figures are often changed one after the other. */
const QUIET_MS = 200;

/** Ranks a survey anew whenever the question or the survey changes; the question before is given up. */
export function useRanking(surveyId: string, revision: number, request: RankingRequest) {
  const { api } = useSessions();
  const [state, setState] = useState<RankingState>({
    ranking: undefined,
    problem: undefined,
    isAsking: true,
  });
  const [attempt, setAttempt] = useState(0);
  const question = JSON.stringify(request);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new revision or attempt asks the same again
  useEffect(() => {
    const stop = new AbortController();
    setState((before) => ({ ...before, isAsking: true }));
    const ask = async () => {
      const answer = await api.ranking(surveyId, JSON.parse(question) as RankingRequest, stop.signal);
      if (stop.signal.aborted) return;
      setState(({ ranking }) =>
        answer.ok
          ? { ranking: answer.value, problem: undefined, isAsking: false }
          : { ranking, problem: answer.problem, isAsking: false },
      );
    };
    const timer = setTimeout(() => void ask(), QUIET_MS);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [api, surveyId, revision, question, attempt]);
  return { ...state, retry: () => setAttempt(attempt + 1) };
}
