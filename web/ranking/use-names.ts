import { useMemo } from 'react';
import { useSessions } from '../app/sessions.ts';
import { useStore } from '../ui/use-store.ts';

/** What the tunnels of the open survey are called; the id where one is not among them. */
export function useNames(): (id: string) => string {
  const { surveys } = useSessions();
  const { open } = useStore(surveys);
  const rows = open?.status === 'ready' ? open.value.rows : undefined;
  return useMemo(() => {
    const names = new Map((rows ?? []).map(({ id, name }) => [id, name]));
    return (id: string) => names.get(id) ?? id;
  }, [rows]);
}
