import { useCallback, useMemo } from 'react';
import type { SurveyView } from '../../../shared/wire/survey.ts';
import { useLoaded } from '../../accounts/use-loaded.ts';
import { useSessions } from '../../app/sessions.ts';
import { useOpenView } from '../../app/use-open-view.ts';
import type { Answer, Layer } from '../../session/api.ts';
import { type TunnelRow, toTunnelRow } from '../../session/tunnel-row.ts';
import { useStore } from '../../ui/use-store.ts';

/** What the report is made of: its tunnels by rank, and the layers of its map. */
export type ReportData = {
  readonly survey: SurveyView;
  readonly rows: readonly TunnelRow[];
  /** How many the survey has. */
  readonly allCount: number;
  readonly map: ReportLayers;
};

export type ReportLayers = {
  readonly complexes: Layer;
  /** Absent where the survey is too large for one page. */
  readonly context?: Layer;
  /** What stands along the bores, where the tunnels are few enough to see it. */
  readonly details?: { readonly portals: Layer; readonly decisions: Layer; readonly beacons: Layer };
};

/** With more tunnels the background is a country's: too much for a page. */
const MOST_WITH_BACKGROUND = 3000;
/** So few tunnels are drawn with their beacons. */
export const MOST_WITH_DETAILS = 3;

/** Loads what the report needs, as it is now. */
export function useReport() {
  const { api, view } = useSessions();
  const survey = useOpenView();
  const { address, reportTunnels } = useStore(view);
  const ids = address.tunnels ?? reportTunnels;
  const id = survey?.id;
  const isSmall = (survey?.counts?.complexes ?? 0) <= MOST_WITH_BACKGROUND;
  const isDetailed = ids !== undefined && ids.length <= MOST_WITH_DETAILS;
  const ask = useCallback(async (): Promise<Answer<ReportLayers | undefined>> => {
    if (id === undefined) return { ok: true, value: undefined };
    const complexes = await api.layer(id, 'complexes');
    if (!complexes.ok) return complexes;
    const context = isSmall ? await api.layer(id, 'context') : undefined;
    if (context?.ok === false) return context;
    const background = context === undefined ? {} : { context: context.value };
    if (!isDetailed) return { ok: true, value: { complexes: complexes.value, ...background } };
    const [portals, decisions, beacons] = await Promise.all(
      (['portals', 'decisions', 'beacons'] as const).map((layer) => api.layer(id, layer)),
    );
    for (const one of [portals, decisions, beacons]) if (one?.ok === false) return one;
    if (!portals?.ok || !decisions?.ok || !beacons?.ok) throw new Error('every layer was asked for');
    const details = { portals: portals.value, decisions: decisions.value, beacons: beacons.value };
    return { ok: true, value: { complexes: complexes.value, ...background, details } };
  }, [api, id, isSmall, isDetailed]);
  const { value, problem, reload } = useLoaded(ask);
  const data = useMemo(
    () => (survey === undefined || value === undefined ? undefined : toData(survey, value, ids)),
    [survey, value, ids],
  );
  return { data, problem, reload };
}

function toData(survey: SurveyView, map: ReportLayers, ids: readonly string[] | undefined): ReportData {
  const all = map.complexes.features.map(toTunnelRow);
  const wanted = ids && new Set(ids);
  const rows = all.filter(({ id }) => wanted?.has(id) ?? true).sort(byRank);
  return { survey, rows, allCount: all.length, map };
}

const UNRANKED = Number.MAX_SAFE_INTEGER;

/** First the ranked ones, then the longest. */
function byRank(a: TunnelRow, b: TunnelRow): number {
  return (a.rank ?? UNRANKED) - (b.rank ?? UNRANKED) || b.lengthM - a.lengthM || (a.id < b.id ? -1 : 1);
}
