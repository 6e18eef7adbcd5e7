import type { FeatureCollection } from 'geojson';
import { useDeferredValue, useEffect, useMemo, useRef, useState } from 'react';
import type { BeaconId } from '../../shared/placement/beacon.ts';
import { toChangeFeatures } from '../map/features/to-change-features.ts';
import { toKeepOutFeatures } from '../map/features/to-keep-out-features.ts';
import type { DesignOverlay, ProgrammeYears, SurveyLayers } from '../map/map-types.ts';
import MapView from '../map/map-view.tsx';
import type { OpenDesign } from '../session/design-state.ts';
import type { OpenSurvey } from '../session/survey-session.ts';
import { toSlide } from '../session/to-slide.ts';
import { listActiveFilters } from '../survey/list-active-filters.ts';
import { listTunnels } from '../survey/list-tunnels.ts';
import { FIRST_VIEW, type TableView } from '../survey/table-view.ts';
import type { Theme } from '../ui/theme.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { useSessions } from './sessions.ts';
import { useDesign } from './use-design.ts';
import { useMapFocus } from './use-map-focus.ts';
import { useRights } from './use-rights.ts';

const EMPTY: FeatureCollection = { type: 'FeatureCollection', features: [] };

/** The map, fed from the sessions: the only place that knows both. Loaded after the shell. */
export default function MapPane({ theme }: { readonly theme: Theme }) {
  const { surveys, view } = useSessions();
  const { open, surveys: list } = useStore(surveys);
  const { address, hoveredId, table, drawing, spot } = useStore(view);
  const design = useDesign();
  const { mayEdit } = useRights();
  const survey = open?.status === 'ready' ? open.value : undefined;
  const ready = design?.state.status === 'ready' ? design.state.open : undefined;
  const session = design?.session;
  const layers = useLayers(survey, address.panel === 'report');
  const overlay = useOverlay(ready);
  const changes = useChanges();
  const shown = useShownTunnels(survey, address.panel === undefined ? table : FIRST_VIEW);
  const plan = usePlan(address.panel === 'programme' ? survey?.id : undefined);
  // A beacon that was chosen on the map is in sight already; one from the list is brought there.
  const chosenOnMap = useRef<BeaconId | undefined>(undefined);
  const focus = useMapFocus(survey, ready, chosenOnMap.current);
  const basemap = useBasemap();
  // Where the address says the map should look at the start; later moves come from the map itself.
  const [initialPosition] = useState(address.map);
  const [isNoticeShut, setNoticeShut] = useState(false);
  const told = list.status === 'ready' ? list.value.find((one) => one.id === survey?.id) : undefined;

  return (
    <div className="map-room">
      {basemap.failed && !isNoticeShut && (
        <p className="map-notice" role="status">
          {words.map.basemapFailed}{' '}
          <button type="button" onClick={() => setNoticeShut(true)}>
            {words.dismiss}
          </button>
        </p>
      )}
      <MapView
        tiles={told && { surveyId: told.id, revision: told.revision }}
        layers={layers}
        design={overlay}
        changes={changes}
        programme={plan}
        shownComplexes={shown}
        selectedComplex={address.tunnel}
        hoveredComplex={hoveredId}
        selectedBeacon={ready?.beaconId}
        show={{
          galleries: table.showsCovered,
          restricted: table.showsRestricted,
          coverage: true,
          findings: address.panel === 'report' || spot !== undefined,
        }}
        theme={theme}
        demo={told?.demo ?? false}
        basemapStyleUrl={basemap.failed ? undefined : basemap.url}
        focus={focus}
        initialPosition={initialPosition}
        isReadOnly={!mayEdit}
        drawing={drawing}
        onArea={(area) => view.patch({ area, drawing: undefined, isImportOpen: true })}
        onAreaCancelled={() => view.patch({ drawing: undefined, isImportOpen: true })}
        onMoved={(position) => view.moveMap(position)}
        onHoverComplex={(id) => view.patch({ hoveredId: id })}
        onSelectComplex={(id) => (id === undefined ? view.openTable() : view.openTunnel(id))}
        onSelectBeacon={(id) => {
          chosenOnMap.current = id;
          session?.selectBeacon(id);
        }}
        onSlidePreview={(beaconId, to, anchor) =>
          to === undefined ? session?.cancel() : session?.preview(toSlide(ready, beaconId, to, anchor))
        }
        onSlide={(beaconId, to, anchor) => session?.commit(toSlide(ready, beaconId, to, anchor))}
        onBasemapFailed={basemap.fail}
      />
    </div>
  );
}

/** The tunnels that pass the table's filters, undefined where there is no filter; typing does not wait for the map. */
function useShownTunnels(survey: OpenSurvey | undefined, table: TableView): readonly string[] | undefined {
  const settled = useDeferredValue(table);
  return useMemo(() => {
    if (survey === undefined || listActiveFilters(settled).length === 0) return undefined;
    const all = { ...settled, showsCovered: true, showsRestricted: true };
    return listTunnels(survey.rows, all).map(({ id }) => id);
  }, [survey, settled]);
}

/** What the map takes whole; the background and the findings follow when they are there. */
function useLayers(survey: OpenSurvey | undefined, wantsFindings: boolean): SurveyLayers | undefined {
  const { surveys } = useSessions();
  const id = survey?.id;
  useEffect(() => {
    if (id === undefined) return;
    surveys.want('context');
    if (wantsFindings) surveys.want('findings');
  }, [surveys, id, wantsFindings]);
  const complexes = survey?.complexes;
  const { context, findings } = survey?.later ?? {};
  return useMemo(
    () =>
      complexes && {
        complexes,
        context: context?.status === 'ready' ? context.value : EMPTY,
        findings: findings?.status === 'ready' ? findings.value : EMPTY,
      },
    [complexes, context, findings],
  );
}

function useOverlay(open: OpenDesign | undefined): DesignOverlay | undefined {
  const network = open?.network;
  const shown = open?.shown;
  const keepOuts = open?.scheme.keepOuts;
  const rules = shown?.design.rules;
  const blocked = useMemo(
    () => toKeepOutFeatures(network?.links ?? [], keepOuts ?? [], rules),
    [network, keepOuts, rules],
  );
  return useMemo(() => {
    if (network === undefined || shown === undefined) return undefined;
    const collect = (features: readonly object[]) =>
      ({ type: 'FeatureCollection', features: [...features] }) as FeatureCollection;
    return {
      keepOuts: blocked,
      network,
      placed: shown.design.beacons,
      beacons: collect(shown.beacons),
      coverage: collect(shown.coverage),
    };
  }, [network, shown, blocked]);
}

/** What a newer extract would change, while it is looked at. */
function useChanges(): FeatureCollection | undefined {
  const { comparison } = useSessions();
  const { loaded } = useStore(comparison);
  return useMemo(() => (loaded?.status === 'ready' ? toChangeFeatures(loaded.value) : undefined), [loaded]);
}

/** The plan of a survey, as far as one was made. */
function usePlan(surveyId: string | undefined): ProgrammeYears | undefined {
  const { programme } = useSessions();
  const { surveyId: planned, planned: plan } = useStore(programme);
  const best = surveyId !== undefined && planned === surveyId ? plan?.answer.best : undefined;
  return useMemo(() => best && { years: best.years, leftOut: best.leftOut.map(({ id }) => id) }, [best]);
}

/** The operator's base map, if there is one. */
function useBasemap() {
  const { api } = useSessions();
  const [url, setUrl] = useState<string | undefined>();
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    void api.config().then((answer) => setUrl(answer.ok ? answer.value.basemapStyleUrl : undefined));
  }, [api]);
  return { url, failed, fail: () => setFailed(true) };
}
