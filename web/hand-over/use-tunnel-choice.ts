import { useMemo, useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { listTunnels } from '../survey/list-tunnels.ts';
import { useStore } from '../ui/use-store.ts';
import { chooseIds, type TunnelChoice } from './choose-ids.ts';

const NONE: readonly TunnelRow[] = [];

/** Which tunnels of the open survey are chosen; `ids` is undefined for all of them. */
export function useTunnelChoice() {
  const { surveys, view } = useSessions();
  const { open: survey } = useStore(surveys);
  const { address, table } = useStore(view);
  const [kind, setKind] = useState<TunnelChoice>('all');
  const [picked, setPicked] = useState<ReadonlySet<string>>(new Set());
  const all = survey?.status === 'ready' ? survey.value.rows : NONE;
  const shown = useMemo(() => listTunnels(all, table), [all, table]);
  const open = all.find(({ id }) => id === address.tunnel);
  const openId = open?.id;
  const ids = useMemo(
    () => chooseIds(kind, { all, shown, openId, picked }),
    [kind, all, shown, openId, picked],
  );
  const pick = (id: string, isPicked: boolean) => {
    const next = new Set(picked);
    if (isPicked) next.add(id);
    else next.delete(id);
    setPicked(next);
  };
  return { kind, setKind, all, shown, open, picked, pick, ids };
}
