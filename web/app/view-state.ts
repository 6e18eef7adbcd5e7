import type { BBox, LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { Area } from '../../shared/wire/survey.ts';
import type { AreaShape } from '../map/map-types.ts';
import { makeStore } from '../session/make-store.ts';
import { readTableView } from '../survey/table-address.ts';
import { clearFilters, type TableView } from '../survey/table-view.ts';
import { type Address, fromSearch, type MapPlace, type Panel, toSearch } from './address.ts';
import type { PlanLimits } from './plan-address.ts';

/** A dialog about people: one's own account, everybody's, or the links to the open survey. */
export type AccountDialog = 'password' | 'sessions' | 'accounts' | 'share';

/** What the person looks at. The first part stands in the page's address. */
export type View = {
  readonly address: Address;
  readonly hoveredId: string | undefined;
  /** What the table and the map show; in the address, too. */
  readonly table: TableView;
  /** The tunnel that was open last: the table comes back to it. */
  readonly lastTunnel: string | undefined;
  /** On narrow screens: how much of the screen the panel takes. */
  readonly sheet: 'half' | 'full';
  readonly isImportOpen: boolean;
  readonly isExportOpen: boolean;
  /** The tunnels of the report to print, where they are too many for the address. */
  readonly reportTunnels: readonly string[] | undefined;
  /** The dialog for a newer extract of the open survey. */
  readonly isUpdateOpen: boolean;
  readonly dialog: AccountDialog | undefined;
  /** The newer extract that a person wants to look at later: its banner is shut. */
  readonly laterExtract: string | undefined;
  /** What the map waits for to be drawn. */
  readonly drawing: AreaShape | undefined;
  /** The area of the import dialog, drawn, found or typed. */
  readonly area: Area | undefined;
  /** What the report points at. */
  readonly spot: LonLat | undefined;
  /** A place that the map shall show, once per `id`. */
  readonly goTo: { readonly id: number; readonly bounds: BBox } | undefined;
};

/** More tunnels than these make an address that cannot be sent. */
const MAX_IN_ADDRESS = 100;

export type ViewState = ReturnType<typeof createViewState>;

/** Keeps the view and the page's address the same: choosing makes a history entry, moving the map does not. */
export function createViewState(page: Pick<Window, 'location' | 'history' | 'addEventListener'>) {
  const store = makeStore<View>({
    address: fromSearch(page.location.search),
    hoveredId: undefined,
    table: readTableView(new URLSearchParams(page.location.search)),
    lastTunnel: undefined,
    sheet: 'half',
    isImportOpen: false,
    isExportOpen: false,
    reportTunnels: undefined,
    isUpdateOpen: false,
    dialog: undefined,
    laterExtract: undefined,
    drawing: undefined,
    area: undefined,
    spot: undefined,
    goTo: undefined,
  });
  const write = (address: Address, isNewEntry: boolean) => {
    const url = `${page.location.pathname}${toSearch(address, store.get().table)}`;
    if (isNewEntry) page.history.pushState(null, '', url);
    else page.history.replaceState(null, '', url);
    // What was under the pointer may be gone from the screen.
    store.patch(isNewEntry ? { address, hoveredId: undefined } : { address });
  };
  page.addEventListener('popstate', () => {
    const { search } = page.location;
    store.patch({ address: fromSearch(search), table: readTableView(new URLSearchParams(search)) });
  });

  return {
    get: store.get,
    subscribe: store.subscribe,
    patch: store.patch,
    /** Another survey: what was filtered out of the one before is no filter of it. */
    openSurvey(survey: string, isNewEntry = true) {
      const { address, table } = store.get();
      const isOther = address.survey !== undefined && address.survey !== survey;
      if (isOther) store.patch({ table: clearFilters(table), lastTunnel: undefined });
      write({ survey }, isNewEntry);
    },
    /** Changes what the table shows; typing makes no history entry of each letter. */
    patchTable(patch: Partial<TableView>) {
      store.patch({ table: { ...store.get().table, ...patch } });
      write(store.get().address, false);
    },
    openTunnel(tunnel: string, isNewEntry = true) {
      const { survey, map } = store.get().address;
      write({ ...(survey ? { survey } : {}), tunnel, ...(map ? { map } : {}) }, isNewEntry);
      store.patch({ sheet: 'half', lastTunnel: tunnel });
    },
    openPanel(panel: Panel) {
      const { survey, map } = store.get().address;
      // On a narrow screen what is to be read comes first, then the place of what is chosen.
      store.patch({ spot: undefined, ...(panel === 'report' ? {} : { sheet: 'full' as const }) });
      write({ ...(survey ? { survey } : {}), panel, ...(map ? { map } : {}) }, true);
    },
    /** The report to print, of these tunnels or of all. */
    openReport(tunnels: readonly string[] | undefined) {
      const { survey, map } = store.get().address;
      const isShort = tunnels !== undefined && tunnels.length <= MAX_IN_ADDRESS;
      store.patch({ isExportOpen: false, reportTunnels: isShort ? undefined : tunnels });
      const named = isShort ? { tunnels } : {};
      write({ ...(survey ? { survey } : {}), panel: 'print', ...named, ...(map ? { map } : {}) }, true);
    },
    /** Back to the table. */
    openTable() {
      const { survey, map, panel } = store.get().address;
      const wasFull = panel !== undefined && panel !== 'report';
      store.patch({ spot: undefined, ...(wasFull ? { sheet: 'half' as const } : {}) });
      write({ ...(survey ? { survey } : {}), ...(map ? { map } : {}) }, true);
    },
    /** The plan that is shown, so that its address can be sent. */
    showPlan(plan: PlanLimits) {
      write({ ...store.get().address, plan }, false);
    },
    moveMap(map: MapPlace) {
      write({ ...store.get().address, map }, false);
    },
    /** Brings a place on the map; on a narrow screen the panel makes room, unless it shall stay as it is. */
    goTo(bounds: BBox, sheet: View['sheet'] = 'half') {
      store.patch({ goTo: { id: (store.get().goTo?.id ?? 0) + 1, bounds }, sheet });
    },
  };
}
