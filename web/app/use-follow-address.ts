import { useEffect } from 'react';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { useSessions } from './sessions.ts';

/** Opens what the address names: the survey (the first ready one where it names none) and the tunnel. */
export function useFollowAddress(): void {
  const { surveys, view, designs, imports, updates } = useSessions();
  const { surveys: list, open } = useStore(surveys);
  const { address } = useStore(view);
  useEffect(() => {
    void surveys.refresh();
  }, [surveys]);

  useEffect(() => {
    if (list.status !== 'ready') return;
    const wanted = list.value.find((survey) => survey.id === address.survey);
    if (address.survey === undefined) {
      const first = list.value.find((survey) => survey.status === 'ready');
      if (first !== undefined) view.openSurvey(first.id, false);
    } else if (wanted?.status === 'ready') surveys.open(wanted.id);
    else if (wanted === undefined) surveys.close();
    // Right after a start the demo is still being read.
    const working = wanted ?? list.value.find((survey) => survey.status === 'working');
    if (working?.status === 'working' && imports.get().phase === 'idle') imports.follow(working);
    // A page that was loaded anew does not know that a newer extract is being read.
    const job = wanted?.candidateJob;
    if (job !== undefined && updates.get().phase === 'idle') updates.follow(job);
  }, [list, address.survey, surveys, view, imports, updates]);

  const isOpen = open?.status === 'ready' && open.value.id === address.survey;
  useEffect(() => {
    designs.open(isOpen ? address.survey : undefined, isOpen ? address.tunnel : undefined);
  }, [designs, isOpen, address.survey, address.tunnel]);

  const name =
    list.status === 'ready' ? list.value.find((survey) => survey.id === address.survey)?.name : undefined;
  const tunnel =
    open?.status === 'ready' ? open.value.rows.find((row) => row.id === address.tunnel)?.name : undefined;
  useEffect(() => {
    document.title = [tunnel, name, words.product].filter((part) => part !== undefined).join(' · ');
  }, [tunnel, name]);

  useEffect(() => {
    const warn = (event: BeforeUnloadEvent) => {
      if (designs.hasUnsaved()) event.preventDefault();
    };
    window.addEventListener('beforeunload', warn);
    return () => window.removeEventListener('beforeunload', warn);
  }, [designs]);
}
