import { useEffect, useState } from 'react';
import type { Area } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';

/** Typing waits this long before the question is asked for again. */
const PAUSE_MS = 300;

export type Preview = { readonly query: string; readonly areaKm2: number } | { readonly problem: string };

/** What would be asked for an area; undefined while that is not known. */
export function useAreaPreview(area: Area | undefined): Preview | undefined {
  const { api } = useSessions();
  const [preview, setPreview] = useState<Preview>();
  const key = area === undefined ? undefined : JSON.stringify(area);
  useEffect(() => {
    setPreview(undefined);
    if (key === undefined) return;
    let isCurrent = true;
    const timer = setTimeout(async () => {
      const answer = await api.previewArea(JSON.parse(key) as Area);
      if (isCurrent) setPreview(answer.ok ? answer.value : { problem: answer.problem.detail });
    }, PAUSE_MS);
    return () => {
      isCurrent = false;
      clearTimeout(timer);
    };
  }, [key, api]);
  return preview;
}
