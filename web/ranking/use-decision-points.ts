import type { Feature } from 'geojson';
import { useEffect, useMemo } from 'react';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { useSessions } from '../app/sessions.ts';
import { useStore } from '../ui/use-store.ts';

/** A decision point as the map shows it: where it is, and where its roads lead. */
export type DecisionPoint = { readonly at: LonLat; readonly leads: string };

/** So many of the ways to go are named. */
const NAMED = 2;

/** The decision points of the open survey, by tunnel and node; undefined for one that its layers do not hold. */
export function useDecisionPoints(): (complexId: string, osmNode: number) => DecisionPoint | undefined {
  const { surveys } = useSessions();
  const { open } = useStore(surveys);
  const id = open?.status === 'ready' ? open.value.id : undefined;
  useEffect(() => {
    if (id !== undefined) surveys.want('decisions');
  }, [surveys, id]);
  const decisions = open?.status === 'ready' ? open.value.later.decisions : undefined;
  const features = decisions?.status === 'ready' ? decisions.value.features : undefined;
  return useMemo(() => {
    const points = new Map((features ?? []).map((feature) => [`${feature.id}`, feature]));
    return (complexId, osmNode) => toPoint(points.get(`${complexId}/n${osmNode}`));
  }, [features]);
}

function toPoint(feature: Feature | undefined): DecisionPoint | undefined {
  if (feature?.geometry.type !== 'Point') return undefined;
  const [lon, lat] = feature.geometry.coordinates as [number, number];
  const branches = (feature.properties?.branches ?? []) as readonly { readonly label?: string }[];
  const labels = [...new Set(branches.flatMap(({ label }) => (label === undefined ? [] : [label])))];
  return { at: [lon, lat], leads: labels.slice(0, NAMED).join(' / ') };
}
