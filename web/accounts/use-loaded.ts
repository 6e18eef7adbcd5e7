import { useCallback, useEffect, useState } from 'react';
import type { Answer, ApiProblem } from '../session/api.ts';

/** What a dialog reads when it opens, and again after each change. `ask` has to stay the same between renders. */
export function useLoaded<T>(ask: () => Promise<Answer<T>>) {
  const [value, setValue] = useState<T>();
  const [problem, setProblem] = useState<ApiProblem>();
  const reload = useCallback(async () => {
    const answer = await ask();
    if (answer.ok) setValue(answer.value);
    setProblem(answer.ok ? undefined : answer.problem);
  }, [ask]);
  useEffect(() => void reload(), [reload]);
  return { value, problem, reload };
}
