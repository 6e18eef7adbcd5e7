import { useEffect, useState } from 'react';
import type { HandOverPreview } from '../../shared/wire/hand-over.ts';
import { useSessions } from '../app/sessions.ts';
import type { ApiProblem } from '../session/api.ts';

/** Who ticks one tunnel after another needs no count in between. */
const WAIT_MS = 150;

/** What a hand-over of these tunnels would hold; nothing while it is counted. */
export function usePreview(surveyId: string, ids: readonly string[] | undefined) {
  const { api } = useSessions();
  const [told, setTold] = useState<{ preview?: HandOverPreview; problem?: ApiProblem }>({});
  const [attempt, setAttempt] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt asks again
  useEffect(() => {
    setTold({});
    if (ids?.length === 0) return;
    const stop = new AbortController();
    const timer = setTimeout(async () => {
      const answer = await api.previewHandOver(surveyId, ids, stop.signal);
      if (stop.signal.aborted) return;
      setTold(answer.ok ? { preview: answer.value } : { problem: answer.problem });
    }, WAIT_MS);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [api, surveyId, ids, attempt]);
  return { ...told, retry: () => setAttempt(attempt + 1) };
}
